package library_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/library"
)

// FuzzReadPanel reads any bytes as a panel's file; what it accepts it can write.
func FuzzReadPanel(f *testing.F) {
	f.Add([]byte(`{"kind":"undercoat-panel","version":1,"name":"tile","panel":{"size":{"w":150,"h":150},"kind":"tile"}}`))
	f.Add([]byte(`{"kind":"undercoat-panel","version":1,"panel":{"size":{"w":1e308,"h":-0}}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := library.ReadPanel(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		once, err := p.JSON()
		require.NoError(t, err)
		again, err := library.ReadPanel(once)
		require.NoError(t, err)
		require.Equal(t, p.Panel, again.Panel)
	})
}

func FuzzReadDefaults(f *testing.F) {
	f.Add([]byte(`{"kind":"undercoat-defaults","version":1,"unit":"mm"}`))
	f.Add([]byte(`{"kind":"undercoat-defaults","version":1,"unit":"ell"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := library.ReadDefaults(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			require.Zero(t, d)
		}
	})
}
