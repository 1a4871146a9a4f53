// Undercoat opens the bench, the window in which a maker plans a panel: on the
// job or the picture named on the command line, or on the built-in demo job.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/ui/bench"
	"undercoat/ui/theme"
	"undercoat/ui/translations"
)

// appID names the program's own preferences and must match FyneApp.toml.
const appID = "org.undercoat.bench"

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: undercoat [JOB.undercoat | PICTURE]")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() > 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(flag.Arg(0)); err != nil {
		fmt.Fprintf(os.Stderr, "undercoat: %v\n", err)
		os.Exit(3)
	}
}

func run(path string) error {
	a, err := newApp()
	if err != nil {
		return err
	}
	win, b, err := openWindow(a)
	if err != nil {
		return err
	}
	a.Lifecycle().SetOnStarted(func() {
		if path != "" {
			b.OpenPath(path)
		}
		b.Welcome()
	})
	win.ShowAndRun()
	b.Close()
	return nil
}

// newApp is the toolkit's application in the program's own dress.
func newApp() (fyne.App, error) {
	if err := translations.Load(); err != nil {
		return nil, err
	}
	a := app.NewWithID(appID)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.Icon()))
	a.Settings().SetTheme(theme.New())
	return a, nil
}

// openWindow makes a window with the bench on the demo job.
func openWindow(a fyne.App) (fyne.Window, *bench.Bench, error) {
	j, pic, err := job.Demo(context.Background())
	if err != nil {
		return nil, nil, err
	}
	win := a.NewWindow("Undercoat")
	b := bench.New(win, j, pic, bench.Options{Journal: bench.JobJournal})
	win.Resize(fyne.NewSize(1280, 800))
	win.CenterOnScreen()
	return win, b, nil
}
