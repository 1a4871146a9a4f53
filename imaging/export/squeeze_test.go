package export

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/plane"
)

// squeezed is a zlib stream of rows, which come a few bytes at a time.
func squeezed(t *testing.T, rows []byte, atOnce int) []byte {
	t.Helper()
	var out bytes.Buffer
	s := newSqueezer(&out)
	for len(rows) > 0 {
		n := min(atOnce, len(rows))
		_, err := s.add(rows[:n])
		require.NoError(t, err)
		rows = rows[n:]
	}
	require.NoError(t, s.close())
	return out.Bytes()
}

// mixed is bands of which some are noise and some are blank.
func mixed() []byte {
	rows := append([]byte(nil), noise(2048, 2000, 3).Pix...)
	rows = append(rows, make([]byte, 3*bytesPerBand+17)...)
	return append(rows, noise(800, 1000, 4).Pix...)
}

func TestSqueezedBandsAreOneZlibStream(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []byte
	}{
		{"nothing", nil},
		{"a byte", []byte{7}},
		{"less than a band", mixed()[:1000]},
		{"a band", mixed()[:bytesPerBand]},
		{"a band and a byte", mixed()[:bytesPerBand+1]},
		{"many", mixed()},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, atOnce := range []int{1000, 3 * bytesPerBand} {
				z, err := zlib.NewReader(bytes.NewReader(squeezed(t, c.rows, atOnce)))
				require.NoError(t, err)
				got, err := io.ReadAll(z) // which checks the sum
				require.NoError(t, err)
				require.True(t, bytes.Equal(c.rows, got))
			}
		})
	}
}

func TestARasterIsTheSameOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	bits := noise(5000, 2100, 11)
	clear(bits.Pix[len(bits.Pix)/2:])
	var first []byte
	for cores := 1; cores <= 8; cores++ {
		runtime.GOMAXPROCS(cores)
		got := rasterBytes(t, bits, 0.08)
		if first == nil {
			first = got
		}
		require.True(t, bytes.Equal(first, got), "%d cores", cores)
	}
}

// TestBandsAreSqueezedAsWellAsTheyNeed holds a file against one stream at the level:
// noise may take a sixteenth more, for the time it saves, and the rest no more than
// the cuts cost.
func TestBandsAreSqueezedAsWellAsTheyNeed(t *testing.T) {
	weave := plane.NewBits(4096, 1200)
	for y := range weave.H {
		for i := range weave.Row(y) {
			weave.Row(y)[i] = []byte{0xaa, 0x11, 0x55, 0x88}[y&3]
		}
	}
	for _, c := range []struct {
		name string
		rows []byte
		most float64 // times the size of one stream
		over int     // bytes
	}{
		{"noise", noise(4096, 1200, 5).Pix, 17. / 16, 0},
		{"error-diffused", ramp(2048, 2048).Pix, 17. / 16, 0},
		{"blank", make([]byte, 600_000), 1, 1000},
		{"weave", weave.Pix, 1, 3000},
	} {
		t.Run(c.name, func(t *testing.T) {
			var one bytes.Buffer
			z, err := zlib.NewWriterLevel(&one, rasterLevel)
			require.NoError(t, err)
			_, err = z.Write(c.rows)
			require.NoError(t, err)
			require.NoError(t, z.Close())
			got := len(squeezed(t, c.rows, bytesPerBand))
			require.LessOrEqual(t, got, int(float64(one.Len())*c.most)+c.over)
		})
	}
}

func TestNothingIsLeftRunningWhenAWriteFails(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	full := errors.New("full")
	err := WriteRaster(writerFunc(func(p []byte) (int, error) {
		if len(p) > 1000 {
			return 0, full
		}
		return len(p), nil
	}), noise(4096, 4096, 2), 0.08)
	require.ErrorIs(t, err, full)
}
