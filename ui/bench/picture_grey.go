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
		name    string
		channel picture.Channel
	}{
		{lang.X("grey.red", "Red"), picture.Red},
		{lang.X("grey.green", "Green"), picture.Green},
		{lang.X("grey.blue", "Blue"), picture.Blue},
	} {
		f.slider(c.name, stepMix(), scale{0, 1, 0.01, unsignedPercent},
			func(d job.Document) float64 { return d.Picture.Mix.Weight(c.channel) },
			func(d *job.Document, v float64) error {
				d.Picture.Mix = d.Picture.Mix.WithWeight(c.channel, v)
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
