package bench

import (
	"math"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

// newDetailSection adds what looks at the surroundings of each pixel: local contrast,
// noise and sharpening. Lengths are on the panel.
func newDetailSection(in *form) {
	f, _ := in.section(lang.X("picture.detail", "Detail"), detailText)
	f.localContrast()
	f.noise()
	f.sharpening()
}

func detailText(d job.Document) string {
	t := d.Picture.Tone
	if t.Pointwise() {
		return lang.X("detail.none", "as it is")
	}
	if t.Sharpen.Amount > 0 {
		return lang.X("detail.sharpened", "sharpened")
	}
	return lang.X("detail.changed", "changed")
}

func (f *form) localContrast() {
	step := lang.X("step.local", "local contrast")
	f.slider(lang.X("detail.local", "Local contrast"), step, scale{1, picture.MaxLocalLimit, 0.1, timesText},
		func(d job.Document) float64 { return max(1, localOf(d).Limit) },
		func(d *job.Document, v float64) error {
			l := localOf(*d)
			l.Limit = v
			d.Picture.Tone.Local = l
			return nil
		})
	f.length(lang.X("detail.tile", "In parts of"), step,
		func(d job.Document) layout.MM { return localOf(d).Tile },
		func(d *job.Document, v layout.MM) {
			l := localOf(*d)
			l.Tile = v
			d.Picture.Tone.Local = l
		})
}

// localOf is the local contrast or, where there is none yet, one that changes nothing
// with tiles of about a tenth of the picture.
func localOf(d job.Document) picture.LocalContrast {
	if l := d.Picture.Tone.Local; l != (picture.LocalContrast{}) {
		return l
	}
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return picture.LocalContrast{Limit: 1, Tile: picture.MinLocalTile}
	}
	tile := layout.MM(math.Round(float64(min(area.Size.W, area.Size.H) / 10)))
	return picture.LocalContrast{Limit: 1, Tile: min(max(tile, picture.MinLocalTile), picture.MaxLocalTile)}
}

func (f *form) noise() {
	step := lang.X("step.noise", "noise")
	f.slider(lang.X("detail.noise", "Smooth grain"), step, scale{0, picture.MaxNoiseStrength, 0.5, plainNumber},
		func(d job.Document) float64 { return noiseOf(d).Strength },
		func(d *job.Document, v float64) error {
			n := noiseOf(*d)
			n.Strength = v
			d.Picture.Tone.Noise = n
			return nil
		})
	f.length(lang.X("detail.noiseradius", "Grain within"), step,
		func(d job.Document) layout.MM { return noiseOf(d).Radius },
		func(d *job.Document, v layout.MM) {
			n := noiseOf(*d)
			n.Radius = v
			d.Picture.Tone.Noise = n
		})
}

// noiseOf is the smoothing or, where there is none yet, one that changes nothing and
// reaches over two dots.
func noiseOf(d job.Document) picture.Noise {
	if n := d.Picture.Tone.Noise; n != (picture.Noise{}) {
		return n
	}
	return picture.Noise{Radius: min(max(2*d.Setting.Pitch, picture.MinNoiseRadius), picture.MaxNoiseRadius)}
}

func (f *form) sharpening() {
	step := lang.X("step.sharpen", "sharpening")
	change := func(to func(s *picture.Sharpen, v float64)) func(*job.Document, float64) {
		return func(d *job.Document, v float64) {
			s := sharpenOf(*d)
			to(&s, v)
			d.Picture.Tone.Sharpen = s
		}
	}
	amount := change(func(s *picture.Sharpen, v float64) { s.Amount = v })
	f.slider(lang.X("detail.sharpen", "Sharpen"), step, scale{0, picture.MaxSharpenAmount, 0.05, timesText},
		func(d job.Document) float64 { return sharpenOf(d).Amount },
		func(d *job.Document, v float64) error { amount(d, v); return nil })
	radius := change(func(s *picture.Sharpen, v float64) { s.Radius = layout.MM(v) })
	f.length(lang.X("detail.radius", "Radius"), step,
		func(d job.Document) layout.MM { return sharpenOf(d).Radius },
		func(d *job.Document, v layout.MM) { radius(d, float64(v)) })
	f.number(lang.X("detail.threshold", "Threshold"), "L*", step,
		func(d job.Document) float64 { return sharpenOf(d).Threshold },
		change(func(s *picture.Sharpen, v float64) { s.Threshold = v }))
	f.box.Add(widget.NewButtonWithIcon(lang.X("detail.suggest", "Suggest for this pitch and beam"), theme.SearchIcon(), func() {
		f.bench.edit(step, "", func(d *job.Document) error {
			s, err := suggestedSharpen(*d)
			d.Picture.Tone.Sharpen = s
			return err
		})
	}))
}

func suggestedSharpen(d job.Document) (picture.Sharpen, error) {
	return picture.SuggestSharpen(d.Setting.Pitch, max(d.Machine.BeamAlong, d.Machine.BeamAcross))
}

// sharpenOf is the sharpening or, where there is none yet, what would be suggested
// with nothing of it added.
func sharpenOf(d job.Document) picture.Sharpen {
	if s := d.Picture.Tone.Sharpen; s != (picture.Sharpen{}) {
		return s
	}
	s, err := suggestedSharpen(d)
	if err != nil {
		return picture.Sharpen{Radius: picture.MinSharpenRadius}
	}
	s.Amount = 0
	return s
}
