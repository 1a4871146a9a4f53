package bench

import (
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/imaging/screen"
	"undercoat/ui/widgets"
)

// screen adds the choice of a screen, when to use which, and the options that the
// chosen one takes notice of.
func (f *form) screen() {
	step := lang.X("step.screen", "screen")
	choice(f, lang.X("burn.kind", "Screen"), lang.X("burn.choosescreen", "Choose a screen"), step, screenKinds(),
		func(d job.Document) screen.Kind { return d.Screen.Kind },
		func(d *job.Document, k screen.Kind) error { d.Screen.Kind = k; return nil })
	about := f.remarks()
	f.shows = append(f.shows, func(d job.Document) { about.Set(said(widgets.Sentence(screen.Describe(d.Screen.Kind)))) })

	rows := f.check(lang.X("burn.rows", "Rows"), lang.X("burn.oneway", "every row left to right"), step,
		func(d job.Document) bool { return d.Screen.OneWay },
		func(d *job.Document, on bool) { d.Screen.OneWay = on })
	f.when(rows, func(d job.Document) bool { return d.Screen.Kind.Uses().Direction })

	runs := f.part(func(d job.Document) bool { return d.Screen.Kind.Uses().Runs })
	runs.whole(lang.X("screen.mindot", "Least run"), lang.X("screen.dots", "dots"), step, "2",
		func(d job.Document) int { return max(1, d.Screen.MinDot) },
		func(d *job.Document, n int) { d.Screen.MinDot = n })
	runs.whole(lang.X("screen.mingap", "Least gap"), lang.X("screen.dots", "dots"), step, "2",
		func(d job.Document) int { return max(1, d.Screen.MinGap) },
		func(d *job.Document, n int) { d.Screen.MinGap = n })

	matrix := choice(f, lang.X("screen.matrix", "Weave"), "", step, []option[int]{
		{2, lang.X("screen.matrix2", "2 x 2 dots")},
		{4, lang.X("screen.matrix4", "4 x 4 dots")},
		{8, lang.X("screen.matrix8", "8 x 8 dots")},
		{16, lang.X("screen.matrix16", "16 x 16 dots")},
	}, func(d job.Document) int {
		if d.Screen.Matrix == 0 {
			return usualMatrix
		}
		return d.Screen.Matrix
	}, func(d *job.Document, n int) error { d.Screen.Matrix = n; return nil })
	f.when(matrix, func(d job.Document) bool { return d.Screen.Kind.Uses().Matrix })
	f.part(func(d job.Document) bool { return d.Screen.Kind.Uses().Lines }).cells(step)
}

// usualMatrix is what a Bayer screen has that does not say.
const usualMatrix = 8

// cells adds what dots in cells can be told.
func (f *form) cells(step string) {
	f.field(lang.X("screen.lines", "Lines"), lang.X("screen.percm", "per cm"), step,
		func(d job.Document) string {
			if d.Screen.LinesPerCM == 0 {
				return usualLines()
			}
			return plainNumber(d.Screen.LinesPerCM)
		},
		func(d *job.Document, text string) (err error) {
			d.Screen.LinesPerCM = 0
			if !strings.EqualFold(strings.TrimSpace(text), usualLines()) {
				d.Screen.LinesPerCM, err = parseNumber(text)
			}
			return err
		})
	f.number(lang.X("screen.angle", "Angle"), "\u00b0", step,
		func(d job.Document) float64 { return d.Screen.AngleDegrees },
		func(d *job.Document, v float64) { d.Screen.AngleDegrees = v })
	choice(f, lang.X("screen.spot", "Shape"), "", step, []option[screen.Spot]{
		{screen.Round, lang.X("screen.round", "Round dots")},
		{screen.Line, lang.X("screen.line", "Lines")},
	}, func(d job.Document) screen.Spot {
		if d.Screen.Spot == "" {
			return screen.Round
		}
		return d.Screen.Spot
	}, func(d *job.Document, s screen.Spot) error { d.Screen.Spot = s; return nil })
}

// usualLines stands for the lines that nobody chose: as the pitch has it.
func usualLines() string { return lang.X("screen.usual", "usual") }

// screenKinds are the screens a job can have, the usual one first. One without a
// name of its own here goes by its own.
func screenKinds() []option[screen.Kind] {
	labels := map[screen.Kind]string{
		screen.FloydSteinberg:    lang.X("screen.fs", "Fine grain (Floyd-Steinberg)"),
		screen.BeamAware:         lang.X("screen.beam", "Beam-aware grain"),
		screen.BlueNoise:         lang.X("screen.blue", "Even grain (blue noise)"),
		screen.JarvisJudiceNinke: lang.X("screen.jjn", "Crisp (Jarvis-Judice-Ninke)"),
		screen.Stucki:            lang.X("screen.stucki", "Crisper (Stucki)"),
		screen.Burkes:            lang.X("screen.burkes", "In between (Burkes)"),
		screen.Sierra:            lang.X("screen.sierra", "Soft crisp (Sierra)"),
		screen.SierraTwoRow:      lang.X("screen.sierra2", "Softer (Sierra, two rows)"),
		screen.SierraLite:        lang.X("screen.sierralite", "Plain (Sierra lite)"),
		screen.Atkinson:          lang.X("screen.atkinson", "Open, drawn (Atkinson)"),
		screen.Clustered:         lang.X("screen.clustered", "Dots in cells"),
		screen.Bayer:             lang.X("screen.bayer", "Woven (Bayer)"),
		screen.Threshold:         lang.X("screen.threshold", "All or nothing"),
	}
	var out []option[screen.Kind]
	for _, k := range screen.Kinds() {
		label, ok := labels[k]
		if !ok {
			label = string(k)
		}
		out = append(out, option[screen.Kind]{k, label})
	}
	return out
}
