package widgets

import (
	"bytes"
	_ "embed"
	"image"
	"image/png"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

//go:embed cursors/move.png
var movePNG []byte

// moveCursor has four arrows: what it points at moves every way.
var moveCursor desktop.Cursor = newPictureCursor(movePNG)

// pictureCursor is a pointer shape of our own, taken by its middle.
type pictureCursor struct{ img image.Image }

// newPictureCursor reads an embedded PNG. Should that fail the arrow is shown.
func newPictureCursor(data []byte) desktop.Cursor {
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		fyne.LogError("a built-in pointer shape cannot be read", err)
		return desktop.DefaultCursor
	}
	return &pictureCursor{img}
}

// Image is the shape and its hot spot.
func (c *pictureCursor) Image() (image.Image, int, int) {
	middle := c.img.Bounds().Size().Div(2)
	return c.img, middle.X, middle.Y
}
