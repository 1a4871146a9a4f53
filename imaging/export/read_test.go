package export_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/plane"
)

func TestReadRasterReadsWhatWriteRasterWrites(t *testing.T) {
	dots := plane.NewBits(11, 3)
	dots.Set(0, 0)
	dots.Set(10, 2)
	var b bytes.Buffer
	require.NoError(t, export.WriteRaster(&b, dots, 0.1))
	src, err := export.ReadRaster(b.Bytes())
	require.NoError(t, err)
	w, h := src.Size()
	require.Equal(t, []int{11, 3}, []int{w, h})
	row := make([]float32, 11)
	for y := range 3 {
		src.ShareRow(y, row)
		for x, share := range row {
			want := float32(0)
			if dots.At(x, y) {
				want = 1
			}
			require.Equal(t, want, share, "%d, %d", x, y)
		}
	}
}

func TestReadRasterTakesGreysAsPower(t *testing.T) {
	img := image.NewGray(image.Rect(5, 5, 8, 6))
	for x, v := range []uint8{0, 51, 255} {
		img.SetGray(5+x, 5, color.Gray{Y: v})
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	src, err := export.ReadRaster(b.Bytes())
	require.NoError(t, err)
	row := make([]float32, 3)
	src.ShareRow(0, row)
	require.InDeltaSlice(t, []float32{1, 0.8, 0}, row, 1e-6)
}

func TestReadRasterRefuses(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, export.WriteRaster(&b, plane.NewBits(64, 64), 0.1))
	huge := append([]byte(nil), b.Bytes()...)
	copy(huge[16:], []byte{0x7f, 0xff, 0xff, 0xff, 0x7f, 0xff, 0xff, 0xff}) // the checksum no longer fits either
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":  {nil, "ends too early"},
		"letter": {[]byte("dear maker, here is no picture"), "black burns"},
		"cut":    {b.Bytes()[:b.Len()/2], "ends too early"},
		"huge":   {huge, ": "},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := export.ReadRaster(c.data)
			require.ErrorContains(t, err, c.want)
		})
	}
}

func FuzzReadRaster(f *testing.F) {
	var b bytes.Buffer
	_ = export.WriteRaster(&b, plane.NewBits(9, 2), 0.1)
	f.Add(b.Bytes())
	f.Fuzz(func(_ *testing.T, data []byte) {
		_, _ = export.ReadRaster(data) // must not panic
	})
}
