package job_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/imaging/screen"
)

// photograph is a JPEG of w x h pixels with what makes work in one: soft shapes,
// edges and grain. It is as large as a camera's of the same size.
func photograph(b *testing.B, w, h int) []byte {
	b.Helper()
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			light := 128 + 60*math.Sin(9*u+5*v*v) + 40*math.Cos(31*v-17*u*u)
			if (x/157+y/211)%3 == 0 {
				light = 0.7*light + 20
			}
			grain := float64(uint32(x*374761393+y*668265263)*2654435761>>24)/255 - 0.5
			img.Y[y*img.YStride+x] = uint8(max(0, min(255, light+14*grain)))
		}
	}
	for y := range (h + 1) / 2 {
		for x := range (w + 1) / 2 {
			i := y*img.CStride + x
			img.Cb[i], img.Cr[i] = uint8(128+30*math.Sin(float64(x)/300)), uint8(128+25*math.Cos(float64(y)/260))
		}
	}
	var data bytes.Buffer
	require.NoError(b, jpeg.Encode(&data, img, &jpeg.Options{Quality: 90}))
	return data.Bytes()
}

// BenchmarkStages takes a picture of 12 megapixels to the raster of a panel of 10 x
// 10 in at 318 dpi, each stage by itself and then the whole. Bytes are pixels, or
// dots, so that MB/s reads as megapixels a second.
func BenchmarkStages(b *testing.B) {
	ctx := context.Background()
	const w, h = 4000, 3000
	j := stagesJob(b, photograph(b, w, h))
	plan, err := j.Document.Plan()
	require.NoError(b, err)
	grid := plan.Placement.Grid
	dev, err := j.Develop(ctx, nil)
	require.NoError(b, err)
	pic, err := j.Open(ctx)
	require.NoError(b, err)
	near, err := resample.ToSize(ctx, dev.Light, j.Document.Picture.Crop, grid.Cols, grid.Rows)
	require.NoError(b, err)
	tints, err := job.LookUp(ctx, near, dev.Tones)
	require.NoError(b, err)
	dots, err := screen.Screen(ctx, tints, dev.Table.Recipe().Screen)
	require.NoError(b, err)
	source, raster := int64(w*h), int64(grid.Cols*grid.Rows)
	for _, s := range []struct {
		name string
		of   int64
		run  func() error
	}{
		{"decode", source, func() error {
			_, err := picture.Decode(ctx, j.Picture, picture.Limits{})
			return err
		}},
		{"tint table", 256, func() error { _, err := proof.NewTintTable(ctx, j.Document.Recipe()); return err }},
		{"tones", 1 << 16, func() error { _, err := j.Document.ToneTable(dev.Table); return err }},
		{"grey", source, func() error { _, err := j.Document.Picture.Light(ctx, pic); return err }},
		{"resample", raster, func() error {
			_, err := resample.ToSize(ctx, dev.Light, j.Document.Picture.Crop, grid.Cols, grid.Rows)
			return err
		}},
		{"look up", raster, func() error { _, err := job.LookUp(ctx, near, dev.Tones); return err }},
		{"screen", raster, func() error { _, err := screen.Screen(ctx, tints, dev.Table.Recipe().Screen); return err }},
		{"file", raster, func() error { return export.WriteRaster(io.Discard, dots, grid.Pitch) }},
		{"develop", source, func() error { _, err := j.Develop(ctx, nil); return err }},
		{"raster", raster, func() error { _, err := dev.Raster(ctx, plan.Placement); return err }},
		{"whole", raster, func() error {
			_, err := job.Prepare(ctx, j, job.Request{Dir: b.TempDir(), Only: []job.Output{job.RasterOutput}})
			return err
		}},
	} {
		b.Run(s.name, func(b *testing.B) {
			b.SetBytes(s.of)
			b.ReportAllocs()
			for b.Loop() {
				require.NoError(b, s.run())
			}
		})
	}
}

func stagesJob(b *testing.B, data []byte) *job.Job {
	d := plain(b, 254, 254, 25.4/318)
	j, _, err := job.New(b.Context(), d, "photograph.jpg", data)
	require.NoError(b, err)
	return j
}
