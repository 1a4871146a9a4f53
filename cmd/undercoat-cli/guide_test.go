package main

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
)

// TestEveryCommandOfTheGuideRuns does what a maker does who follows the guide from its
// first chapter to its last, in one folder. What a maker brings along is made when it
// is asked for: photographs of the chart, of the panel and of a wall, and the file
// of rates that the guide prints.
func TestEveryCommandOfTheGuideRuns(t *testing.T) {
	workshop(t)
	ran := map[string]int{}
	for _, chapter := range assets.GuideChapters() {
		for _, args := range commandLines(chapter.Markdown) {
			for _, name := range args[1:] {
				bring(t, name, chapter.Markdown)
			}
			does(t, args...)
			ran[args[0]]++
		}
	}
	for _, verb := range []string{"demo", "new", "check", "prepare", "proof", "strip", "trial", "wall", "chart", "read", "fit", "compare"} {
		require.NotZero(t, ran[verb], "the guide shows %s", verb)
	}
	for _, name := range []string{"calibrated.json", "learned.json", "long/section-2.png", "offer/client.pdf", "friday/timetable.ics", "hall.png"} {
		require.FileExists(t, name)
	}
}

// bring makes a file that the maker has and the program has not written.
func bring(t *testing.T, name, chapter string) {
	t.Helper()
	if _, err := os.Stat(name); err == nil {
		return
	}
	var data []byte
	switch name {
	case "chart.jpg":
		data = chartPhotograph(t)
	case "lines.jpg":
		data = lineChartPhotograph(t, "lines/"+job.ChartFile)
	case "lines.json":
		data = lineReadings(t)
	case "finished.jpg":
		data = panelPhotograph(t)
	case "trial.jpg":
		var err error
		data, err = trialPhotograph("trial", 1)
		require.NoError(t, err)
	case "hall.jpg":
		data = photograph(t)
	case "rates.json":
		data = []byte(regexp.MustCompile(`(?s)\{"kind": "undercoat-rates".*?\}`).FindString(chapter))
		require.NotEmpty(t, data, "the guide prints a file of rates")
	default:
		return
	}
	require.NoError(t, os.WriteFile(name, data, 0o600))
}

// chartPhotograph is a photograph of the chart in the folder chart, burned into its own
// stack.
func chartPhotograph(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("chart/" + job.ChartFile)
	require.NoError(t, err)
	chart, err := swatch.ReadChart(data)
	require.NoError(t, err)
	shot, err := simulate.Scene{
		Chart: chart, Machine: *chart.Machine, Stack: *chart.Stack, Uneven: 0.02, W: 2000, H: 1500, FallOff: 0.2, Noise: 0.004, Seed: 1,
	}.Photo(t.Context())
	require.NoError(t, err)
	return shot.JPEG
}

// panelPhotograph is a photograph of the panel of boat.undercoat, burned as proofed.
func panelPhotograph(t *testing.T) []byte {
	t.Helper()
	j, err := job.Read("boat.undercoat")
	require.NoError(t, err)
	v, err := j.Develop(t.Context(), nil)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	raster, err := v.Raster(t.Context(), pl)
	require.NoError(t, err)
	img, err := j.Document.PanelProof(t.Context(), j.Document.Recipe(), raster, pl, 800, nil)
	require.NoError(t, err)
	var photo bytes.Buffer
	require.NoError(t, export.WriteProof(&photo, img, 0))
	return photo.Bytes()
}

// Options that the guide mentions in passing are there.
func TestTheGuideNamesOptionsThatThereAre(t *testing.T) {
	option := regexp.MustCompile("`(--[a-z-]+)`")
	var known []string
	for _, cmd := range newRoot().Commands() {
		known = append(known, strings.Fields(cmd.Flags().FlagUsages())...)
	}
	count := 0
	for _, chapter := range assets.GuideChapters() {
		for _, m := range option.FindAllStringSubmatch(chapter.Markdown, -1) {
			require.True(t, m[1] == "--help" || slices.Contains(known, m[1]), "%s: there is no option %s", chapter.File, m[1])
			count++
		}
	}
	require.GreaterOrEqual(t, count, 5)
}
