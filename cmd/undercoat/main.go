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
	"undercoat/cmd/internal/build"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/ui/bench"
	"undercoat/ui/session"
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
	version := flag.Bool("version", false, "say which build this is, and end")
	flag.Parse()
	if *version {
		fmt.Println("undercoat version", build.Line())
		return
	}
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
	reading := readDemo()
	a, err := newApp()
	if err != nil {
		return err
	}
	win := newWindow(a)
	var b *bench.Bench
	// The window is on the screen while the demo job is read and its bench built.
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			d := <-reading
			fyne.Do(func() {
				if err = d.err; err != nil {
					a.Quit()
					return
				}
				b = d.bench(win)
				if path != "" {
					b.OpenPath(path)
				}
				b.Welcome()
			})
		}()
	})
	win.ShowAndRun()
	if b != nil {
		b.Close()
	}
	return err
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

// newWindow is the program's window, with nothing in it yet.
func newWindow(a fyne.App) fyne.Window {
	win := a.NewWindow("Undercoat")
	win.Resize(fyne.NewSize(1280, 800))
	win.CenterOnScreen()
	return win
}

// demo is the built-in job, or why it cannot be had.
type demo struct {
	job *job.Job
	pic *picture.Picture
	err error
}

// readDemo reads the demo job beside the caller, who goes on meanwhile.
func readDemo() <-chan demo {
	read := make(chan demo, 1)
	go func() {
		var d demo
		d.job, d.pic, d.err = job.Demo(context.Background())
		read <- d
	}()
	return read
}

// bench puts the bench on the demo job into a window.
func (d demo) bench(win fyne.Window) *bench.Bench {
	return bench.New(win, d.job, d.pic, bench.Options{Journal: bench.JobJournal, Desk: session.OpenDesk, Version: build.Line()})
}
