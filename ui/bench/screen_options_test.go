package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/screen"
	"undercoat/ui/widgets"
)

// names are those of the controls on show in a drawer.
func (d *desk) names(nth int) map[string]bool {
	out := map[string]bool{}
	walk(d.Drawers()[nth], func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widgets.Field:
			out[o.Name()] = true
		case *widgets.Named:
			out[o.Name()] = true
		}
	})
	return out
}

// A screen shows the options that it takes notice of and no others.
func TestAScreenShowsWhatItTakesNoticeOf(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(burnNth)
	for _, o := range screenKinds() {
		t.Run(string(o.value), func(t *testing.T) {
			d.t = t
			d.choose("Screen", o.label)
			uses, shown := o.value.Uses(), d.names(burnNth)
			for name, wanted := range map[string]bool{
				"Rows": uses.Direction, "Least run": uses.Runs, "Least gap": uses.Runs,
				"Weave": uses.Matrix, "Lines": uses.Lines, "Angle": uses.Lines, "Shape": uses.Lines,
			} {
				require.Equal(t, wanted, shown[name], name)
			}
			require.NotEqual(t, string(o.value), o.label, "it has a name for people")
			object(d, "description", func(r *widgets.Remarks) bool {
				return len(r.Texts()) == 1 && r.Texts()[0] == widgets.Sentence(screen.Describe(o.value))
			})
			require.Empty(t, d.says())
		})
	}
}

func TestOptionsOfOtherScreensAreOneStepEach(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(burnNth)
	for _, tt := range []struct {
		kind string
		controlTest
	}{
		{"Woven (Bayer)", controlTest{"weave", 0, func(d *desk) { d.choose("Weave", "4 x 4 dots") }, "screen",
			func(d job.Document) bool { return d.Screen.Matrix == 4 }}},
		{"Dots in cells", controlTest{"lines", 0, func(d *desk) { d.enter("Lines", "10") }, "screen",
			func(d job.Document) bool { return d.Screen.LinesPerCM == 10 }}},
		{"Dots in cells", controlTest{"angle", 0, func(d *desk) { d.enter("Angle", "45") }, "screen",
			func(d job.Document) bool { return d.Screen.AngleDegrees == 45 }}},
		{"Dots in cells", controlTest{"shape", 0, func(d *desk) { d.choose("Shape", "Lines") }, "screen",
			func(d job.Document) bool { return d.Screen.Spot == screen.Line }}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d.t = t
			d.choose("Screen", tt.kind)
			tt.run(d)
		})
	}
	d.t = t
	require.Equal(t, "usual", d.field("Lines").Text())
	d.enter("Lines", "12")
	d.enter("Lines", "Usual")
	require.Zero(t, d.s.Document().Screen.LinesPerCM)
	for _, bad := range [][2]string{{"Lines", "500"}, {"Lines", "many"}, {"Angle", "270"}} {
		d.enter(bad[0], bad[1])
		requireSentence(t, d.field(bad[0]).Problem())
	}
}
