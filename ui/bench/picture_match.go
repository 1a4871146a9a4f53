package bench

import (
	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// matchSection is what of the picture is burned, and what the burn matches.
type matchSection struct {
	*form
	why *widgets.Remarks
}

func newMatchSection(in *form) *matchSection {
	f, section := in.section(lang.X("picture.match", "Match"), matchName)
	section.SetOpen(true)
	m := &matchSection{form: f}
	choiceOf(f, lang.X("match.by", "Match by"), "", lang.X("step.match", "match"), waysToMatch,
		func(d job.Document) job.Match { return d.Match },
		func(d *job.Document, v job.Match) error { d.Match = v; return nil })
	how := f.remarks()
	f.shows = append(f.shows, func(d job.Document) { how.Set(said(matchText(d.Match))) })

	byLightness := f.part(func(d job.Document) bool { return !d.Match.ByColour() })
	choice(byLightness, lang.X("picture.burns", "Burn"), "", lang.X("step.burns", "what burns"), []option[job.Burns]{
		{job.BurnsByStack, lang.X("burns.stack", "As the stack asks")},
		{job.BurnsBright, lang.X("burns.bright", "Bright parts")},
		{job.BurnsDark, lang.X("burns.dark", "Dark parts")},
	}, func(d job.Document) job.Burns { return d.Picture.Burns },
		func(d *job.Document, v job.Burns) error { d.Picture.Burns = v; return nil })
	m.why = byLightness.remarks()
	choice(byLightness, lang.X("picture.tones", "Tones"), "", lang.X("step.tones", "tones"), []option[job.Tones]{
		{job.TonesEven, lang.X("tones.even", "Even steps of lightness")},
		{job.TonesLight, lang.X("tones.light", "Dots in step with light")},
	}, func(d job.Document) job.Tones { return d.Picture.Tones },
		func(d *job.Document, v job.Tones) error { d.Picture.Tones = v; return nil })
	return m
}

// waysToMatch leaves out what the machine cannot do.
func waysToMatch(d job.Document) []option[job.Match] {
	labels := map[job.Match]string{
		job.MatchLightness:   lang.X("match.lightness", "Lightness"),
		job.MatchPower:       lang.X("match.power", "Colour, by power"),
		job.MatchSteps:       lang.X("match.steps", "Colour, by steps"),
		job.MatchNestedSteps: lang.X("match.nested", "Colour, by nested steps"),
	}
	var out []option[job.Match]
	for _, m := range job.Matches() {
		if m != job.MatchPower || d.Machine.PowerPerPixel {
			out = append(out, option[job.Match]{m, labels[m]})
		}
	}
	return out
}

// matchName is what the document's way to match is called.
func matchName(d job.Document) string {
	for _, o := range waysToMatch(d) {
		if o.value == d.Match {
			return o.label
		}
	}
	return ""
}

// matchText says it in a sentence.
func matchText(m job.Match) string {
	switch m {
	case job.MatchPower:
		return lang.X("match.powerhow", "Each dot gets the power whose look is nearest to its colour, in one burn.")
	case job.MatchSteps:
		return lang.X("match.stepshow", "Each dot is burned once, down to the coat nearest to its colour: one raster a coat, each at its own power.")
	case job.MatchNestedSteps:
		return lang.X("match.nestedhow", "Each dot is burned in every step down to its coat, so that each step takes one coat more away: one raster a coat.")
	}
	return lang.X("match.lightnesshow", "The picture's lightness becomes more or fewer dots, all of one power.")
}

func (m *matchSection) found(f session.Found) {
	m.why.Set()
	if f.BurnsWhy != "" {
		m.why.Set(said(widgets.Sentence(f.BurnsWhy)))
	}
}
