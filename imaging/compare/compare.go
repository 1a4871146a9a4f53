package compare

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// Request is what is compared.
type Request struct {
	Recipe    proof.Recipe // as the panel was burned
	Raster    burn.Source
	Placement layout.Placement
	Photo     *plane.RGB16 // upright, linear light
	// Corners of the panel in the photograph, in its pixels: upper left, upper right,
	// lower right, lower left of the picture. nil: the panel fills the photograph.
	Corners *[4]layout.PicturePoint
	// Progress is told how far the comparison has come, 0 to 1; may be nil.
	Progress func(fraction float64)
}

// viewLong is the long side of the views that are compared, in pixels: dots are not to
// be seen any more, the picture is.
const viewLong = 360

// minPhotoSide is the least that a photograph must have.
const minPhotoSide = 200

// comparison is a request under way.
type comparison struct {
	Request
	ctx  context.Context
	w, h int
}

// Panel compares a photograph of the finished panel with its proof.
func Panel(ctx context.Context, r Request) (*Result, error) {
	c := &comparison{Request: r, ctx: ctx}
	if c.Progress == nil {
		c.Progress = func(float64) {}
	}
	c.w, c.h = r.Placement.Panel.Size.FitLong(viewLong)
	corners, err := c.corners()
	if err != nil {
		return nil, err
	}
	asSet, err := c.proofAt(1)
	if err != nil {
		return nil, err
	}
	corners = c.aligned(corners, asSet)
	photo, err := c.straightened(corners)
	if err != nil {
		return nil, err
	}
	if err := looksLike(photo, asSet); err != nil {
		return nil, err
	}
	result, err := c.result(photo, asSet, corners)
	if err == nil {
		c.Progress(1)
	}
	return result, err
}

// corners are those given, or those of the photograph if it has the panel's shape.
func (c *comparison) corners() ([4]layout.PicturePoint, error) {
	p := c.Photo
	if p.W < minPhotoSide || p.H < minPhotoSide {
		return [4]layout.PicturePoint{}, fmt.Errorf("the photograph is %d x %d pixels and at least %d x %d are needed: take a larger one", p.W, p.H, minPhotoSide, minPhotoSide)
	}
	if c.Corners != nil {
		for i, k := range c.Corners {
			if !(k.X >= 0 && k.Y >= 0 && k.X <= float64(p.W) && k.Y <= float64(p.H)) {
				return *c.Corners, fmt.Errorf("corner %d at %v lies outside the photograph of %d x %d pixels: choose a place in it", i+1, k, p.W, p.H)
			}
		}
		return *c.Corners, nil
	}
	size := c.Placement.Panel.Size
	panel, photo := float64(size.W/size.H), float64(p.W)/float64(p.H)
	if math.Abs(math.Log(panel/photo)) > 0.03 {
		return [4]layout.PicturePoint{}, errors.New("the photograph does not have the panel's shape: cut it to the panel's edges, or give the panel's four corners in it")
	}
	return frameCorners(p.W, p.H), nil
}

// straightened is the panel of the photograph on the view's pixels.
func (c *comparison) straightened(corners [4]layout.PicturePoint) (*looks, error) {
	h, err := layout.FromCorners(corners, float64(c.w), float64(c.h))
	if err != nil {
		return nil, err
	}
	p, err := resample.WarpRGB(c.ctx, c.Photo, h, c.w, c.h)
	if err != nil {
		return nil, err
	}
	return looksOfPlane(p), nil
}

// proofAt is the proof of the panel at a factor on its dose.
func (c *comparison) proofAt(factor float64) (*looks, error) {
	img, err := c.imageAt(factor)
	if err != nil {
		return nil, err
	}
	return looksOf(img), nil
}

func (c *comparison) imageAt(factor float64) (*image.RGBA, error) {
	r := c.Recipe
	r.Machine.OpticalPowerW *= factor
	cols, rows := c.Raster.Size()
	scale := float64(c.w) / float64(c.Placement.Panel.Size.W)
	size := c.Placement.Grid.Size()
	vw, vh := max(1, int(math.Round(float64(size.W)*scale))), max(1, int(math.Round(float64(size.H)*scale)))
	area, err := proof.Exact(c.ctx, r, c.Raster, image.Rect(0, 0, cols, rows), vw, vh, nil)
	if err != nil {
		return nil, err
	}
	return proof.Panel(r, c.Placement, area, c.w, c.h), nil
}

// leastLike is the correlation in lightness below which a photograph shows something
// else than the panel.
const leastLike = 0.5

// looksLike refuses a photograph that shows another panel, or this one turned round.
func looksLike(photo, proof *looks) error {
	a, b := photo.lightness(2), proof.lightness(2)
	if correlation(a, b) >= leastLike {
		return nil
	}
	turned := make([]float64, len(a))
	for i := range a {
		turned[len(a)-1-i] = a[i]
	}
	if correlation(turned, b) >= leastLike {
		return errors.New("the photograph shows the panel upside down: turn it, or name the corners from the picture's upper left")
	}
	for y := range photo.h {
		for x := range photo.w {
			turned[y*photo.w+x] = a[y*photo.w+photo.w-1-x]
		}
	}
	if correlation(turned, b) >= leastLike {
		return errors.New("the photograph is mirrored: use it as the camera took it")
	}
	return errors.New("the photograph does not show this panel's picture: check the photograph, the job and the four corners")
}

func correlation(a, b []float64) float64 {
	n := float64(len(a))
	var sa, sb, saa, sbb, sab float64
	for i := range a {
		sa, sb = sa+a[i], sb+b[i]
		saa, sbb, sab = saa+a[i]*a[i], sbb+b[i]*b[i], sab+a[i]*b[i]
	}
	va, vb := saa-sa*sa/n, sbb-sb*sb/n
	if va <= 0 || vb <= 0 {
		return 0
	}
	return (sab - sa*sb/n) / math.Sqrt(va*vb)
}
