// Command make draws the assets that are pictures: the demo picture and the icon.
//
//	go run ./assets/make                  writes assets/demo.jpg and assets/icon.png
//	go run ./assets/make -only icon
//	go run ./assets/make -scale 0.25 -dir /tmp -png   a small demo picture, to look at
//	go run ./assets/make -only desktop -dir build     icons in the sizes that desktops ask for
//
// It draws the same picture on every run.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
)

func main() {
	dir := flag.String("dir", "assets", "the folder to write to")
	scale := flag.Float64("scale", 1, "the demo picture's size, 1 for 3072 x 4096")
	only := flag.String("only", "", "demo, icon or desktop; nothing for the first two")
	plain := flag.Bool("png", false, "write the demo picture as PNG, to look at it without losses")
	flag.Parse()
	if err := run(*dir, *scale, *only, *plain); err != nil {
		fmt.Fprintln(os.Stderr, "make:", err)
		os.Exit(1)
	}
}

func run(dir string, scale float64, only string, plain bool) error {
	if !(scale > 0 && scale <= 2) {
		return fmt.Errorf("scale %v: must be above 0 and at most 2", scale)
	}
	switch only {
	case "", "demo", "icon":
	case "desktop":
		return writeDesktop(dir)
	default:
		return fmt.Errorf("only %q: choose demo, icon or desktop", only)
	}
	if only != "icon" {
		name, encode := "demo.jpg", asJPEG
		if plain {
			name, encode = "demo.png", png.Encode
		}
		if err := write(filepath.Join(dir, name), drawDemo(scale), encode); err != nil {
			return err
		}
	}
	if only != "demo" {
		return write(filepath.Join(dir, "icon.png"), drawIcon(iconSize), png.Encode)
	}
	return nil
}

func asJPEG(w io.Writer, img image.Image) error {
	return jpeg.Encode(w, img, &jpeg.Options{Quality: 93})
}

func write(path string, img image.Image, encode func(io.Writer, image.Image) error) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	buffered := bufio.NewWriter(file)
	err = encode(buffered, img)
	if err == nil {
		err = buffered.Flush()
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	return err
}
