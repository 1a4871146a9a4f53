package scene

import (
	"bytes"
	"context"
	"flag"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The rooms as they were looked at and found good. A code's difference here and
// there is another computer's arithmetic; the mean may differ by a quarter.
func TestRoomsLookAsTheyDid(t *testing.T) {
	for _, kind := range Kinds() {
		t.Run(string(kind), func(t *testing.T) {
			o := hanging(quarters(300, 200), 900, 600)
			o.Kind, o.Wall = kind, colour.Stored{R: 233, G: 228, B: 218}
			name := filepath.Join("testdata", strings.ReplaceAll(string(kind), " ", "-")+".png")
			requireGolden(t, name, rendered(t, o, 320, 200))
		})
	}
}

func TestPhotoLooksAsItDid(t *testing.T) {
	corners := [4]layout.PicturePoint{{X: 30, Y: 20}, {X: 190, Y: 40}, {X: 180, Y: 180}, {X: 40, Y: 170}}
	m := Mark{Corners: &corners, CornersMM: layout.Size{W: 900, H: 800}, Centre: point(110, 95)}
	got, err := OnPhoto(context.Background(), even(220, 200, grey), m, hanging(quarters(300, 200), 450, 300))
	require.NoError(t, err)
	requireGolden(t, filepath.Join("testdata", "aslant.png"), got)
}

func requireGolden(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, png.Encode(&buf, got))
	if *update {
		require.NoError(t, os.WriteFile(name, buf.Bytes(), 0o644))
	}
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	decoded, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, decoded.Bounds().Size(), got.Rect.Size())
	want := image.NewRGBA(got.Rect)
	draw.Draw(want, want.Rect, decoded, decoded.Bounds().Min, draw.Src)
	sum, worst := 0.0, 0.0
	for i := range want.Pix {
		d := math.Abs(float64(want.Pix[i]) - float64(got.Pix[i]))
		sum, worst = sum+d, math.Max(worst, d)
	}
	mean := sum / float64(len(want.Pix))
	if mean > 0.25 || worst > 8 {
		failed := filepath.Join(os.TempDir(), "failed-"+filepath.Base(name))
		require.NoError(t, os.WriteFile(failed, buf.Bytes(), 0o644))
		require.Failf(t, "the picture changed", "by %.2f codes on average and %.0f at most; it is kept as %s", mean, worst, failed)
	}
}
