package session

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// shot is a photograph that was read, and how.
type shot struct {
	name  string
	data  []byte
	chart swatch.Chart
	marks Marked
}

// Marked is what somebody pointed at in a photograph of a chart.
type Marked struct {
	Corners *[4]layout.PicturePoint // outer ones of the chart's marks; nil: they are looked for
	White   *image.Rectangle        // on a white paper, in pixels; nil: there is none
}

// HasPhoto tells whether the photograph is at hand that a chart was read from.
func (c ChartReading) HasPhoto() bool { return c.shot != nil }

// HasWhite tells whether the photograph was read by a white paper in it.
func (c ChartReading) HasWhite() bool { return c.shot != nil && c.shot.marks.White != nil }

// Photo decodes the photograph anew that the chart was read from. It takes its time.
func (c ChartReading) Photo(ctx context.Context) (*Photo, error) {
	if c.shot == nil {
		return nil, errors.New("the photograph of this chart is not at hand any more: open it again")
	}
	pic, err := job.OpenPicture(ctx, c.shot.name, c.shot.data)
	if err != nil {
		return nil, err
	}
	return &Photo{c.shot.name, c.shot.data, pic}, nil
}

// WithWhite reads the chart's photograph again by a white paper whose corners are
// pointed at; nil goes back to the top coat's known colour. What the maker said about
// swatches stays. It takes its time.
func (c ChartReading) WithWhite(ctx context.Context, p *Photo, machine burn.Machine, paper *[4]layout.PicturePoint) (ChartReading, error) {
	m := Marked{Corners: c.shot.marks.Corners}
	if paper != nil {
		inner := within(*paper)
		m.White = &inner
	}
	again, err := ReadChart(ctx, p, c.shot.chart, machine, m)
	if err != nil {
		return ChartReading{}, err
	}
	for i := range c.Readings.Swatches {
		if a := c.Answered(i); !a.Measured {
			again.Answer(i, a)
		}
	}
	return again, nil
}

// CheckWhite tells why four corners cannot be those of a white paper to go by.
func CheckWhite(corners [4]layout.PicturePoint) error {
	if inner := within(corners); inner.Dx() < leastWhite || inner.Dy() < leastWhite {
		return fmt.Errorf("the paper marked is under %d pixels wide or high: mark more of it, its corners in their order", leastWhite)
	}
	return nil
}

// leastWhite is the side of the least patch, in pixels, that is read as white paper.
const leastWhite = 8

// within is the upright rectangle that lies within four corners: upper left, upper
// right, lower right, lower left.
func within(c [4]layout.PicturePoint) image.Rectangle {
	return image.Rectangle{
		Min: image.Pt(int(math.Ceil(max(c[0].X, c[3].X))), int(math.Ceil(max(c[0].Y, c[1].Y)))),
		Max: image.Pt(int(min(c[1].X, c[2].X)), int(min(c[2].Y, c[3].Y))),
	}
}
