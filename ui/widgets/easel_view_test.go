package widgets

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

func TestViewIsToldOnceAChange(t *testing.T) {
	e, r, s := shown(t)
	require.NotEmpty(t, r.views)
	whole := r.views[len(r.views)-1]
	require.Equal(t, layout.Area{Size: layout.Size{W: 400, H: 300}}, whole.Area)
	require.InDelta(t, e.view.scale, whole.PixelsPerMM, 1e-9)
	require.InDelta(t, 400*e.view.scale, float64(whole.W), 0.5)
	require.InDelta(t, 300*e.view.scale, float64(whole.H), 0.5)

	seen := len(r.views)
	e.Refresh()
	e.SetBorder(layout.Even(10))
	hover(e, on(e, 0, 0))
	e.Fit()
	require.Len(t, r.views, seen, "what changes nothing of the view is not told")

	s.window.Resize(fyne.NewSize(500, 400))
	require.Greater(t, len(r.views), seen)
	require.Equal(t, whole.Area, e.View().Area, "the whole panel stays in view")
	require.Less(t, e.View().PixelsPerMM, whole.PixelsPerMM)
}

func TestResizeKeepsAZoomedView(t *testing.T) {
	e, _, s := shown(t)
	for range 5 {
		wheel(e, on(e, 100, 50), 25)
	}
	before := e.view
	s.window.Resize(fyne.NewSize(700, 500))
	require.Equal(t, before.scale, e.view.scale)
	require.Equal(t, before.centre, e.view.centre)
}

func TestViewCountsDevicePixels(t *testing.T) {
	e, r, s := shown(t)
	before := e.View()
	s.window.Canvas().(test.WindowlessCanvas).SetScale(2)
	e.Refresh()
	after := r.views[len(r.views)-1]
	require.InDelta(t, before.PixelsPerMM*2, after.PixelsPerMM, 1e-9)
	require.InDelta(t, before.W*2, after.W, 1)
	e.ZoomToDots()
	require.InDelta(t, 10, e.View().PixelsPerMM, 1e-9, "a dot of 0.1 mm to a device pixel")
}

func TestVisiblePartWhenZoomedIn(t *testing.T) {
	e, _, _ := shown(t)
	for range 10 {
		wheel(e, on(e, 100, 50), 25)
	}
	v := e.View()
	require.Less(t, v.Area.Size.W, layout.MM(100))
	require.InDelta(t, float64(v.Area.Size.W)*v.PixelsPerMM, float64(v.W), 0.51)
	require.LessOrEqual(t, v.W, int(easelSize.Width))
	require.LessOrEqual(t, v.H, int(easelSize.Height))
}

func TestSetPanelOfAnotherSizeFits(t *testing.T) {
	e, r, _ := shown(t)
	e.SetPanel(layout.Panel{Kind: layout.Tile, Size: layout.Size{W: 100, H: 100}}, cream)
	require.Equal(t, layout.Area{Size: layout.Size{W: 100, H: 100}}, r.views[len(r.views)-1].Area)
}

func TestAnEaselWithoutAPanelIsHarmless(t *testing.T) {
	e := NewEasel()
	r := listen(e)
	s := show(t, variants["light"], e, easelSize)
	e.SetImage(plain(4, 4, teal), layout.Area{})
	primary.drag(e, fyne.NewPos(100, 100), fyne.NewPos(200, 200))
	wheel(e, fyne.NewPos(100, 100), 25)
	for _, key := range []fyne.KeyName{fyne.KeyTab, fyne.KeyLeft, fyne.KeyEscape} {
		strike(e, key)
	}
	e.TypedRune('1')
	e.TypedRune('0')
	require.False(t, e.AcceptsTab())
	require.Equal(t, EaselView{}, e.View())
	require.Empty(t, r.views)
	require.Empty(t, r.moves)
	s.capture("easel-empty")
}

func TestSettingDoesNotCallBack(t *testing.T) {
	e, r, _ := shown(t)
	e.SetBorder(layout.Even(30))
	e.SetPanel(layout.Panel{Kind: layout.Board, Size: layout.Size{W: 400, H: 300}}, teal)
	e.SetSplit(0.3)
	e.SetMode(Inspect)
	require.Empty(t, r.borders)
	require.Empty(t, r.ended)
	require.Empty(t, r.splits)
}

func TestDetailLiesOverThePicture(t *testing.T) {
	e, _, s := shown(t)
	e.SetMode(Inspect)
	e.SetImage(plain(36, 26, teal), e.area())
	e.SetDetail(plain(10, 10, cream), layout.Area{Size: layout.Size{W: 100, H: 100}})
	img := s.capture("easel-detail")
	x, y := pixel(on(e, 40, 40))
	require.Equal(t, cream, at(img, x, y))
	x, y = pixel(on(e, 60, 40))
	require.Equal(t, teal, at(img, x, y))

	e.SetImage(plain(36, 26, graphite), e.area())
	x, y = pixel(on(e, 40, 40))
	require.Equal(t, graphite, at(s.capture("easel-detail-gone"), x, y), "a new picture takes the old detail away")
}

func TestOtherPictureIsRightOfTheLine(t *testing.T) {
	e, _, s := shown(t)
	e.SetMode(Inspect)
	e.SetImage(plain(36, 26, teal), e.area())
	e.SetOther(plain(36, 26, cream), e.area(), "", "")
	e.SetSplit(0.25) // x = -90 mm
	img := s.capture("easel-halves")
	x, y := pixel(on(e, -95, 60))
	require.Equal(t, teal, at(img, x, y))
	x, y = pixel(on(e, -85, 60))
	require.Equal(t, cream, at(img, x, y))
	e.SetOther(nil, layout.Area{}, "", "")
	require.Equal(t, teal, at(s.capture("easel-one"), x, y))
}

// At single dots a picture of the whole panel would be 160 000 pixels wide.
func TestPictureAtSingleDots(t *testing.T) {
	e, _, s := shown(t)
	e.SetMode(Inspect)
	img := plain(400, 300, teal)
	img.SetRGBA(300, 100, cream2RGBA())
	e.SetImage(img, layout.Area{Size: layout.Size{W: 400, H: 300}})
	spot := layout.Point{X: 100.5, Y: 49.5} // the middle of pixel 300, 100
	for range 40 {
		wheel(e, on(e, spot.X, spot.Y), 50)
	}
	require.InDelta(t, closestDot/0.1, e.view.scale, 1e-9)
	got := s.capture("easel-dots")
	for _, tt := range []struct {
		dx, dy layout.MM
		in     bool
	}{{0, 0, true}, {0.45, -0.45, true}, {-0.45, 0.45, true}, {0.55, 0, false}, {0, -0.55, false}} {
		x, y := pixel(on(e, spot.X+tt.dx, spot.Y+tt.dy))
		want := teal
		if tt.in {
			want = cream
		}
		require.Equal(t, want, at(got, x, y), "%v %v", tt.dx, tt.dy)
	}
	r := test.TempWidgetRenderer(t, e).(*easelRenderer)
	require.Less(t, r.picture.image.Image.Bounds().Dx(), 20, "only the part in view is handed on")
}

func TestVisiblePart(t *testing.T) {
	part, x0, y0, x1, y1 := visiblePart(image.Rect(0, 0, 100, 50), fyne.NewSize(200, 100), -1000, -500, 9000, 4500)
	require.Equal(t, image.Rect(9, 4, 13, 7), part)
	require.Equal(t, []float32{-100, -100, 300, 200}, []float32{x0, y0, x1, y1})
}
