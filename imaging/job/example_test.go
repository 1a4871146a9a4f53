package job_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// What follows from a job's numbers alone.
func ExampleDocument_Plan() {
	demo, _, err := job.Demo(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := demo.Document.Plan()
	if err != nil {
		fmt.Println(err)
		return
	}
	grid := plan.Placement.Grid
	fmt.Printf("%d x %d dots, %.0f J/cm2\n", grid.Cols, grid.Rows, plan.DoseJCM2)
	fmt.Println("burns at most", layout.FormatDuration(demo.Document.MostBurnTime(grid)))
	fmt.Println(plan.Fit.Words)
	// Output:
	// 3600 x 4850 dots, 150 J/cm2
	// burns at most 8 h 12 min
	// the panel fits as it is
}

// From a job to the files for the machine.
func ExamplePrepare() {
	demo, pic, err := job.Demo(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	demo.Document.Panel.Size = layout.Size{W: 60, H: 80}
	if demo.Document, err = demo.Document.Refit(pic); err != nil {
		fmt.Println(err)
		return
	}
	dir, err := os.MkdirTemp("", "hand-off")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	done, err := job.Prepare(context.Background(), demo, job.Request{
		Dir: dir, Only: []job.Output{job.RasterOutput, job.PlacementOutput}, Picture: pic,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, file := range done.Files {
		fmt.Println(filepath.Base(file))
	}
	fmt.Println(done.Cautions[0])
	// Output:
	// raster.png
	// placement.txt
	// placement.json
	// this stack has no fitted curve: uncalibrated, colours and depth are a guess
}

// A job's file holds the document and the picture, and comes back as it was written.
func ExampleRead() {
	demo, _, err := job.Demo(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	dir, err := os.MkdirTemp("", "job")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, demo.Document.FileName())
	if err := demo.Save(path, false); err != nil {
		fmt.Println(err)
		return
	}
	back, err := job.Read(path)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(back.Document.FileName(), len(back.Picture) == len(demo.Picture))
	// Output:
	// lighthouse.undercoat true
}
