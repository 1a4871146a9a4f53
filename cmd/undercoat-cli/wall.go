package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/scene"
	"undercoat/layout"
)

type wallFlags struct {
	output, room, wall, finish string
	photo, mark, length, size  string
	at, view, watermark        string
	stacks                     []string
	replace                    bool
}

func newWall() *cobra.Command {
	f := &wallFlags{}
	cmd := &cobra.Command{
		Use:   "wall JOB.undercoat -o WALL.png",
		Short: "Show the finished panel on a wall, to scale",
		Long: "Wall hangs the proof of a panel, with its painted edge and its clear coat, in one of\n" +
			"three rooms, or on a photo of the client's own wall in which a known length is marked.\n" +
			"With --stacks it shows the same picture in other paints, side by side.",
		Example: "  undercoat-cli wall boat.undercoat -o wall.png --room studio --wall \"#d8d4cc\" --finish satin\n" +
			"  undercoat-cli wall boat.undercoat -o photo.png --photo boat.jpg --mark \"10,20 60,20\" --length 150mm --watermark draft\n" +
			"  undercoat-cli wall boat.undercoat -o sets.png --stacks slate-cream,sunset-four --view 400x300",
		Args: exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			return f.run(cmd, args[0])
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the PNG file to write")
	flags.StringVar(&f.room, "room", "living", "the room: living, hallway or studio")
	flags.StringVar(&f.wall, "wall", job.UsualWall.String(), "the wall's paint, as #d8d4cc")
	flags.StringVar(&f.finish, "finish", "", "clear coat: none, matt, satin or gloss (default: the job's own)")
	flags.StringVar(&f.photo, "photo", "", "a photo of the wall, in place of a room")
	flags.StringVar(&f.mark, "mark", "", `two ends of something of known length on the photographed wall, in pixels: "x,y x,y"; or four corners of an upright rectangle, for a photo taken aslant`)
	flags.StringVar(&f.length, "length", "", "the length between the two ends, as 900mm")
	flags.StringVar(&f.size, "rectangle", "", "the size of the rectangle whose four corners are marked, as 900x2000mm")
	flags.StringVar(&f.at, "at", "", "where on the photo the middle of the panel goes: x,y in pixels (default: the middle of the photo)")
	flags.StringVar(&f.view, "view", "1600x1200", "pixels of a room's view, width x height")
	flags.StringVar(&f.watermark, "watermark", "", "a text to be written over the whole view")
	flags.StringSliceVar(&f.stacks, "stacks", nil, "other stacks to show the same picture in, side by side: names or JSON files, with commas")
	flags.BoolVar(&f.replace, "force", false, "replace the file if it is there")
	return cmd
}

func (f *wallFlags) run(cmd *cobra.Command, path string) error {
	ctx := cmd.Context()
	if err := pngName(f.output); err != nil {
		return err
	}
	w, h, err := parseView(f.view)
	if err != nil {
		return err
	}
	view, err := f.wallView(ctx)
	if err != nil {
		return err
	}
	stacks, err := f.colourSets()
	if err != nil {
		return err
	}
	j, err := readJob(cmd, path)
	if err != nil {
		return err
	}
	if j.Document.Finish, err = parseFinish(f.finish, j.Document.Finish); err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr())
	img, err := wallImage(ctx, j, view, stacks, w, h, bar.show)
	bar.clear()
	if err != nil {
		return err
	}
	if len(stacks) == 0 { // colour sets say it beneath each
		return writeProof(cmd, f.output, f.replace, j.Document, img, 0)
	}
	return export.WriteFile(f.output, f.replace, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(ctx, w), img, 0)
	})
}

func wallImage(ctx context.Context, j *job.Job, view job.WallView, stacks []coat.Stack, w, h int, progress func(float64)) (*image.RGBA, error) {
	if len(stacks) > 0 {
		pic, err := j.Open(ctx)
		if err != nil {
			return nil, err
		}
		return j.ColourSets(ctx, pic, stacks, view, w, h, progress)
	}
	dev, err := j.Develop(ctx, nil)
	if err != nil {
		return nil, err
	}
	return dev.Wall(ctx, view, w, h, progress)
}

func (f *wallFlags) colourSets() ([]coat.Stack, error) {
	var stacks []coat.Stack
	for _, name := range f.stacks {
		s, err := job.FindStack(strings.TrimSpace(name))
		if err != nil {
			return nil, err
		}
		stacks = append(stacks, s)
	}
	return stacks, nil
}

// rooms are the rooms by the names of the command line.
var rooms = map[string]scene.Kind{"living": scene.Living, "hallway": scene.Hallway, "studio": scene.Studio}

func (f *wallFlags) wallView(ctx context.Context) (job.WallView, error) {
	v := job.WallView{Watermark: f.watermark}
	var err error
	if v.Wall, err = colour.ParseHex(f.wall); err != nil {
		return v, fmt.Errorf("wall: %w", err)
	}
	if f.photo == "" {
		for _, given := range []string{f.mark, f.length, f.size, f.at} {
			if given != "" {
				return v, usageError{errors.New("--mark, --length, --rectangle and --at belong to a photo of the wall: add --photo, or leave them out")}
			}
		}
		var known bool
		if v.Kind, known = rooms[strings.TrimSuffix(strings.ToLower(f.room), " room")]; !known {
			return v, fmt.Errorf("room %q is not known: choose living, hallway or studio", f.room)
		}
		return v, nil
	}
	data, err := job.ReadBytes(f.photo)
	if err != nil {
		return v, err
	}
	pic, err := job.OpenPicture(ctx, f.photo, data)
	if err != nil {
		return v, err
	}
	if v.Photo, err = job.Pixels(ctx, pic); err != nil {
		return v, err
	}
	v.Mark, err = f.scale(v.Photo.Rect.Size())
	return v, err
}

// scale reads how large the photographed wall is.
func (f *wallFlags) scale(photo image.Point) (scene.Mark, error) {
	m := scene.Mark{Centre: layout.PicturePoint{X: float64(photo.X) / 2, Y: float64(photo.Y) / 2}}
	if f.at != "" {
		v, err := numberList("at", f.at, 2, "800,600")
		if err != nil {
			return m, err
		}
		m.Centre = layout.PicturePoint{X: v[0], Y: v[1]}
	}
	if f.mark == "" {
		return m, errors.New("the photo of the wall has no scale: give --mark \"x,y x,y\", the two ends of something on it, and --length, how long that is")
	}
	var err error
	switch ends := strings.Fields(f.mark); len(ends) {
	case 2:
		if f.length == "" {
			return m, errors.New("the mark has no length: give --length, how far its two ends are apart on the wall, as 900mm")
		}
		var at [2]layout.PicturePoint
		for i, end := range ends {
			v, err := numberList("mark", end, 2, "120,85")
			if err != nil {
				return m, err
			}
			at[i] = layout.PicturePoint{X: v[0], Y: v[1]}
		}
		m.A, m.B = at[0], at[1]
		m.LengthMM, err = layout.ParseLength(f.length, layout.Millimetre)
	case 4:
		if f.size == "" {
			return m, errors.New("the marked rectangle has no size: give --rectangle, its width and height on the wall, as 900x2000mm")
		}
		var corners [4]layout.PicturePoint
		if corners, err = parseCorners(f.mark); err != nil {
			return m, err
		}
		m.Corners = &corners
		m.CornersMM, err = layout.ParseSize(f.size, layout.Millimetre)
	default:
		err = fmt.Errorf("mark %q is neither two points nor four: write \"x,y x,y\" for two ends, or four corners from the upper left and clockwise", f.mark)
	}
	return m, err
}

// parseFinish reads a clear coat; none given leaves the job's own.
func parseFinish(text string, own coat.Finish) (coat.Finish, error) {
	switch text {
	case "":
		return own, nil
	case "none":
		return coat.Bare, nil
	}
	for _, f := range coat.Finishes() {
		if f == coat.Finish(text) {
			return f, nil
		}
	}
	return own, fmt.Errorf("finish %q is not known: choose none, matt, satin or gloss", text)
}

// parseView reads a size in pixels.
func parseView(text string) (w, h int, err error) {
	if _, err := fmt.Sscanf(text, "%dx%d", &w, &h); err != nil || text != fmt.Sprintf("%dx%d", w, h) {
		return 0, 0, fmt.Errorf("view %q is not a size in pixels: write, for instance, 1600x1200", text)
	}
	return w, h, nil
}
