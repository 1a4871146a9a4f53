package bench

import (
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

// newGreySection adds how much of each colour's light makes grey.
func newGreySection(in *form) {
	f, _ := in.section(lang.X("picture.grey", "Grey mix"), greyText)
	for _, c := range []struct {
		name string
		of   func(*picture.Mix) *float64
	}{
		{lang.X("grey.red", "Red"), func(m *picture.Mix) *float64 { return &m.R }},
		{lang.X("grey.green", "Green"), func(m *picture.Mix) *float64 { return &m.G }},
		{lang.X("grey.blue", "Blue"), func(m *picture.Mix) *float64 { return &m.B }},
	} {
		f.slider(c.name, stepMix(), scale{0, 1, 0.01, unsignedPercent},
			func(d job.Document) float64 { m := mixOf(d); return *c.of(&m) },
			func(d *job.Document, v float64) error {
				d.Picture.Mix = mixed(mixOf(*d), c.of, v)
				return nil
			})
	}
	eye := widget.NewButtonWithIcon(lang.X("grey.eye", "As the eye weighs them"), theme.VisibilityIcon(), func() {
		f.bench.edit(stepMix(), "", func(d *job.Document) error { d.Picture.Mix = picture.Mix{}; return nil })
	})
	f.box.Add(eye)
	f.enabledWhen(eye, func(d job.Document) bool { return d.Picture.Mix != picture.Mix{} })
}

func stepMix() string { return lang.X("step.mix", "grey mix") }

func greyText(d job.Document) string {
	if d.Picture.Mix == (picture.Mix{}) {
		return lang.X("grey.aseye", "as the eye weighs")
	}
	return lang.X("grey.own", "your own")
}

// eyesMix is the mix that stands for none.
var eyesMix = picture.Mix{R: 0.2126, G: 0.7152, B: 0.0722}

func mixOf(d job.Document) picture.Mix {
	if d.Picture.Mix == (picture.Mix{}) {
		return eyesMix
	}
	return d.Picture.Mix
}

// mixed is a mix with one weight set; the other two share the rest as they did.
func mixed(m picture.Mix, of func(*picture.Mix) *float64, v float64) picture.Mix {
	m.R, m.G, m.B = max(0, m.R), max(0, m.G), max(0, m.B)
	*of(&m) = 0
	rest := m.Scaled()
	if rest == (picture.Mix{}) { // the others had nothing
		rest = picture.Mix{R: 0.5, G: 0.5, B: 0.5}
		*of(&rest) = 0
	}
	out := picture.Mix{R: rest.R * (1 - v), G: rest.G * (1 - v), B: rest.B * (1 - v)}
	*of(&out) = v
	return out
}
