package photo_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/picture"
	"undercoat/imaging/swatch/photo"
)

// BenchmarkRead reads sixty swatches from a photograph of twelve million pixels,
// decoding included.
func BenchmarkRead(b *testing.B) {
	c := chart(b, powers(1, 60, 1))
	s := scene(b, c)
	s.W, s.H = 4000, 3000
	shot, err := s.Photo(context.Background())
	require.NoError(b, err)
	b.SetBytes(int64(s.W * s.H))
	b.ReportAllocs()
	b.ResetTimer()
	for b.Loop() {
		pic, err := picture.Decode(context.Background(), shot.JPEG, picture.Limits{})
		require.NoError(b, err)
		res, err := photo.Read(context.Background(), pic, c, photo.Options{})
		require.NoError(b, err)
		require.Len(b, res.Readings.Swatches, 60)
	}
}
