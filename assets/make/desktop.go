package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
)

// The names that a desktop looks the icons up by: the program's identity, and the
// type of its files with a dash for the slash.
const (
	programIcon  = "org.undercoat.bench.png"
	documentIcon = "application-x-undercoat.png"
)

// desktopSizes are the sizes in pixels of which desktops take the one that fits.
// Source: freedesktop.org, Icon Theme Specification 0.13, the sizes of hicolor.
var desktopSizes = []int{16, 24, 32, 48, 64, 128, 256, 512}

// writeDesktop writes the icons into folders for each size, below dir/hicolor.
func writeDesktop(dir string) error {
	for _, side := range desktopSizes {
		at := filepath.Join(dir, "hicolor", fmt.Sprintf("%dx%d", side, side))
		for _, icon := range []struct {
			folder, name string
			img          image.Image
		}{
			{"apps", programIcon, drawIcon(side)},
			{"mimetypes", documentIcon, drawDocument(side)},
		} {
			if err := os.MkdirAll(filepath.Join(at, icon.folder), 0o777); err != nil {
				return err
			}
			if err := write(filepath.Join(at, icon.folder, icon.name), icon.img, png.Encode); err != nil {
				return err
			}
		}
	}
	return nil
}

// drawDocument draws the icon of a job's file: a sheet with a turned-down corner,
// the program's icon on it.
func drawDocument(side int) image.Image {
	const left, top, right, bottom, fold = 76, 16, 436, 496, 104
	c := newCanvas(0, 0, iconSize, iconSize, float64(side)/iconSize)
	sheet := []point{{left, top}, {right - fold, top}, {right, top + fold}, {right, bottom}, {left, bottom}}
	c.fill(flat(graphite.Scale(2.5)), sheet)
	inner := []point{{left + 8, top + 8}, {right - fold - 4, top + 8}, {right - 8, top + fold + 4}, {right - 8, bottom - 8}, {left + 8, bottom - 8}}
	c.fill(flat(ground), inner)
	c.fill(flat(ground.Scale(0.6)), []point{{right - fold - 4, top + 8}, {right - 8, top + fold + 4}, {right - fold - 4, top + fold + 4}})
	const small, x0, y0 = 0.53, 120.0, 176.0 // of the icon, and where it lies on the sheet
	mark := newCanvas(0, 0, iconSize, iconSize, c.scale*small)
	mark.icon()
	c.lay(mark, y0, y0+small*iconSize, func(x, y float64) (lx, ly, keep float64) {
		return (x - x0) / small, (y - y0) / small, 1
	})
	return c.cutOut()
}
