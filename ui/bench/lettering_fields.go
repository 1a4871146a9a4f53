package bench

import (
	"path/filepath"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// textFields are what the picked line says, in which letters.
func (l *letteringDrawer) textFields(f *form) {
	f.field(lang.X("letters.says", "Text"), "", stepLettering(),
		func(d job.Document) string { return l.lineIn(d).Text },
		func(d *job.Document, text string) error {
			l.changed(d, func(line *lettering.Line) { line.Text = text })
			return l.placeable(*d)
		})
	choiceOf(f, lang.X("letters.font", "Font"), "", stepLettering(), fontsOf,
		func(d job.Document) string { return l.lineIn(d).Font },
		func(d *job.Document, name string) error {
			l.changed(d, func(line *lettering.Line) { line.Font = name })
			return l.placeable(*d)
		})
	f.box.Add(widget.NewButtonWithIcon(lang.X("letters.addfont", "Add a font of your own..."), theme.FolderOpenIcon(), l.askFont))
	l.length(f, lang.X("letters.height", "Cap height"), func(line *lettering.Line) *layout.MM { return &line.CapHeight })
}

// placeable refuses a line whose letters its font does not have. A text that is no
// line at all is for the document's own checks to say.
func (l *letteringDrawer) placeable(d job.Document) error {
	if err := l.lineIn(d).Validate(); err != nil {
		return err
	}
	return l.bench.s.CheckLetters(d)
}

// fontsOf are the built-in fonts and the maker's own in the job.
func fontsOf(d job.Document) []option[string] {
	var out []option[string]
	for _, name := range assets.FontNames() {
		out = append(out, option[string]{name, name})
	}
	for _, own := range d.Fonts {
		out = append(out, option[string]{own.Name, own.Name})
	}
	return out
}

// placeFields are where the picked line lies.
func (l *letteringDrawer) placeFields(f *form) {
	l.signedLength(f, lang.X("letters.x", "x"), func(line *lettering.Line) *layout.MM { return &line.At.X })
	l.signedLength(f, lang.X("letters.y", "y"), func(line *lettering.Line) *layout.MM { return &line.At.Y })
	choice(f, lang.X("letters.align", "Align"), "", stepLettering(), []option[lettering.Align]{
		{lettering.Left, lang.X("letters.left", "Left end at x, y")},
		{lettering.Centre, lang.X("letters.centre", "Middle at x, y")},
		{lettering.Right, lang.X("letters.right", "Right end at x, y")},
	}, func(d job.Document) lettering.Align {
		if a := l.lineIn(d).Align; a != "" {
			return a
		}
		return lettering.Centre
	}, func(d *job.Document, a lettering.Align) error {
		l.changed(d, func(line *lettering.Line) { line.Align = a })
		return nil
	})
	l.signedLength(f, lang.X("letters.spacing", "Spacing"), func(line *lettering.Line) *layout.MM { return &line.Spacing })
	l.signedLength(f, lang.X("letters.arc", "Arc radius"), func(line *lettering.Line) *layout.MM { return &line.ArcRadius })
	f.number(lang.X("letters.rotation", "Rotation"), "\u00b0", stepLettering(),
		func(d job.Document) float64 { return l.lineIn(d).RotationDegrees },
		func(d *job.Document, v float64) {
			l.changed(d, func(line *lettering.Line) { line.RotationDegrees = v })
		})
}

// burnFields are how the picked line stands against the picture.
func (l *letteringDrawer) burnFields(f *form) {
	choice(f, lang.X("letters.are", "Letters"), "", stepLettering(), []option[bool]{
		{true, lang.X("letters.burned", "Burned out of the paint")},
		{false, lang.X("letters.kept", "Left in the top coat")},
	}, func(d job.Document) bool { return l.lineIn(d).Burn },
		func(d *job.Document, burn bool) error {
			l.changed(d, func(line *lettering.Line) { line.Burn = burn })
			return nil
		})
	l.length(f, lang.X("letters.margin", "Margin"), func(line *lettering.Line) *layout.MM { return &line.Margin })
	f.hint(lang.X("letters.hint", "x and y are from the panel's centre; an arc radius below 0 bends the line downwards, 0 leaves it straight; the margin keeps the picture's dots away."))
}

func (l *letteringDrawer) length(f *form, name string, of func(*lettering.Line) *layout.MM) {
	read, write := l.lengthOf(of)
	f.length(name, stepLettering(), read, write)
}

func (l *letteringDrawer) signedLength(f *form, name string, of func(*lettering.Line) *layout.MM) {
	read, write := l.lengthOf(of)
	f.signedLength(name, stepLettering(), read, write)
}

func (l *letteringDrawer) lengthOf(of func(*lettering.Line) *layout.MM) (read func(job.Document) layout.MM, write func(*job.Document, layout.MM)) {
	read = func(d job.Document) layout.MM {
		line := l.lineIn(d)
		return *of(&line)
	}
	write = func(d *job.Document, v layout.MM) {
		l.changed(d, func(line *lettering.Line) { *of(line) = v })
	}
	return read, write
}

// askFont asks for a font of the maker's own.
func (l *letteringDrawer) askFont() {
	l.bench.askPath(lang.X("letters.openfont", "Open a font"), []string{".ttf", ".otf", ".TTF", ".OTF"}, l.addFont)
}

// addFont reads a font beside the window, puts it into the job and sets the picked
// line in it.
func (l *letteringDrawer) addFont(path string) {
	b, name := l.bench, filepath.Base(path)
	b.folder = filepath.Dir(path)
	b.background.Go(func() {
		data, err := job.ReadBytes(path)
		b.do(func() {
			if b.ctx.Err() != nil {
				return // the window is gone
			}
			if err == nil {
				err = b.s.AddFont(name, data, func(d *job.Document) error {
					l.changed(d, func(line *lettering.Line) { line.Font = name })
					return nil
				})
			}
			if err != nil {
				b.complain(err)
				return
			}
			b.notice.Hide()
		})
	})
}
