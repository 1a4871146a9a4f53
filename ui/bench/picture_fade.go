package bench

import (
	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

// newFadeSection adds how the burn dies away towards the picture area's edge.
func newFadeSection(in *form) {
	f, _ := in.section(lang.X("picture.fade", "Fade"), fadeText)
	step := lang.X("step.fade", "fade")
	choice(f, lang.X("fade.shape", "Shape"), "", step, []option[picture.FadeShape]{
		{picture.FadeRectangle, lang.X("fade.rectangle", "As the picture area")},
		{picture.FadeOval, lang.X("fade.oval", "Oval")},
	}, func(d job.Document) picture.FadeShape { return d.Picture.Fade.Shape },
		func(d *job.Document, s picture.FadeShape) error { d.Picture.Fade.Shape = s; return nil })
	f.length(lang.X("fade.inset", "Inset"), step,
		func(d job.Document) layout.MM { return d.Picture.Fade.Inset },
		func(d *job.Document, l layout.MM) { d.Picture.Fade.Inset = l })
	corner := f.length(lang.X("fade.corner", "Corner radius"), step,
		func(d job.Document) layout.MM { return d.Picture.Fade.Corner },
		func(d *job.Document, l layout.MM) { d.Picture.Fade.Corner = l })
	f.when(corner, func(d job.Document) bool { return d.Picture.Fade.Shape == picture.FadeRectangle })
	f.length(lang.X("fade.feather", "Feather"), step,
		func(d job.Document) layout.MM { return d.Picture.Fade.Feather },
		func(d *job.Document, l layout.MM) { d.Picture.Fade.Feather = l })
	f.slider(lang.X("fade.vignette", "Vignette"), step, scale{0, 1, 0.01, unsignedPercent},
		func(d job.Document) float64 { return d.Picture.Fade.Vignette },
		func(d *job.Document, v float64) error { d.Picture.Fade.Vignette = v; return nil })
	f.hint(lang.X("fade.hint", "Where the burn fades, untouched top coat shows."))
}

func fadeText(d job.Document) string {
	switch f := d.Picture.Fade; {
	case f == picture.Fade{}:
		return lang.X("fade.none", "none")
	case f.Shape == picture.FadeOval:
		return lang.X("fade.isoval", "oval")
	}
	return lang.X("fade.edges", "at the edges")
}
