package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDesktopIcons(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, run(dir, 1, "desktop", false))
	for _, side := range desktopSizes {
		for _, name := range []string{"apps/" + programIcon, "mimetypes/" + documentIcon} {
			path := filepath.Join(dir, "hicolor", fmt.Sprintf("%dx%d", side, side), name)
			file, err := os.Open(path)
			require.NoError(t, err)
			img, err := png.Decode(file)
			require.NoError(t, err, path)
			require.NoError(t, file.Close())
			require.Equal(t, image.Rect(0, 0, side, side), img.Bounds(), path)
			_, _, _, middle := img.At(side/2, side/2).RGBA()
			require.Equal(t, uint32(0xffff), middle, "%s is painted in its middle", path)
			_, _, _, corner := img.At(0, 0).RGBA()
			require.Less(t, corner, uint32(0x8000), "%s is cut out", path)
		}
	}
	require.NoFileExists(t, filepath.Join(dir, "demo.jpg"))
}
