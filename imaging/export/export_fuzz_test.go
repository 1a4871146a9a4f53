package export

import (
	"bytes"
	"compress/zlib"
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzReadRates(f *testing.F) {
	f.Add([]byte(`{"kind":"undercoat-rates","version":1,"currency":"EUR","panel":12}`))
	f.Add([]byte(`{"kind":"undercoat-rates","version":1,"currency":"\u0000","panel":-1}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadRates(data)
		if err == nil {
			require.NoError(t, r.Validate())
		}
	})
}

// FuzzSqueezer squeezes any rows, repeated to fill some bands, in pieces of any length.
func FuzzSqueezer(f *testing.F) {
	f.Add([]byte{0}, uint32(300_000), uint16(401))
	f.Add([]byte("\x00\xaa\x55\x12\x34\x99"), uint32(bytesPerBand), uint16(9000))
	f.Add([]byte{}, uint32(0), uint16(1))
	f.Fuzz(func(t *testing.T, pattern []byte, length uint32, atOnce uint16) {
		if len(pattern) == 0 {
			length = 0
		}
		rows := make([]byte, length%(3*bytesPerBand))
		for i := range rows {
			rows[i] = pattern[i%len(pattern)] ^ byte(i/len(pattern)>>2)
		}
		z, err := zlib.NewReader(bytes.NewReader(squeezed(t, rows, 1+int(atOnce))))
		require.NoError(t, err)
		got, err := io.ReadAll(z)
		require.NoError(t, err)
		require.True(t, bytes.Equal(rows, got))
	})
}
