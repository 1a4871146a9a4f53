package assets_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"image/jpeg"
	"image/png"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/layout"
)

// requireListed wants every file of a folder offered under its name, and no other.
func requireListed(t *testing.T, folder string, names []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var files []string
	for _, e := range entries {
		files = append(files, strings.TrimSuffix(e.Name(), ".json"))
	}
	require.ElementsMatch(t, files, names)
}

func TestStacks(t *testing.T) {
	requireListed(t, "stacks", assets.StackNames())
	for _, name := range assets.StackNames() {
		t.Run(name, func(t *testing.T) {
			data, ok := assets.Stack(name)
			require.True(t, ok)
			s, err := coat.ReadStack(data)
			require.NoError(t, err)
			require.Contains(t, s.Name, "(starter values)")
			require.False(t, s.Curve.Calibrated, "nobody has measured it")
			m, err := s.Compile(coat.Options{})
			require.NoError(t, err)
			before := s.Curve.Points[0].DoseJCM2
			for i := range s.Coats {
				require.Greater(t, m.BreakThrough(i), before, "coat %d gives way after the one above", i)
				before = m.BreakThrough(i)
			}
			require.Greater(t, s.Curve.ScorchDoseJCM2, before, "the ground can be seen before it scorches")
		})
	}
}

func TestDemoStackBreaksThroughWhereItSays(t *testing.T) {
	data, ok := assets.Stack(assets.DemoStack)
	require.True(t, ok)
	s, err := coat.ReadStack(data)
	require.NoError(t, err)
	m, err := s.Compile(coat.Options{})
	require.NoError(t, err)
	for i, want := range []float64{45, 80, 125} {
		require.InDelta(t, want, m.BreakThrough(i), 0.01)
	}
}

func TestMachines(t *testing.T) {
	requireListed(t, "machines", assets.MachineNames())
	for _, name := range assets.MachineNames() {
		t.Run(name, func(t *testing.T) {
			data, ok := assets.Machine(name)
			require.True(t, ok)
			m, err := burn.ReadMachine(data)
			require.NoError(t, err)
			require.Contains(t, m.Name, "(starter values)")
		})
	}
}

// panelFile is a starter panel as it stands in its file.
type panelFile struct {
	Kind    string       `json:"kind"`
	Version int          `json:"version"`
	Name    string       `json:"name"`
	Panel   layout.Panel `json:"panel"`
}

func readPanel(t *testing.T, name string) panelFile {
	t.Helper()
	data, ok := assets.Panel(name)
	require.True(t, ok)
	var f panelFile
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(&f))
	require.Equal(t, "undercoat-panel", f.Kind)
	require.Equal(t, 1, f.Version)
	require.NoError(t, f.Panel.Validate())
	return f
}

func TestPanels(t *testing.T) {
	requireListed(t, "panels", assets.PanelNames())
	file, err := os.Open("testdata/panel_sizes.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	published := map[string]layout.Size{}
	for _, row := range rows[1:] {
		w, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		h, err := strconv.ParseFloat(row[2], 64)
		require.NoError(t, err)
		published[row[0]] = layout.Size{W: layout.MM(w), H: layout.MM(h)}
	}
	require.Len(t, published, len(assets.PanelNames()))
	for _, name := range assets.PanelNames() {
		t.Run(name, func(t *testing.T) {
			got := readPanel(t, name).Panel.Size
			require.Contains(t, published, name)
			require.InDelta(t, float64(published[name].W), float64(got.W), 1e-9)
			require.InDelta(t, float64(published[name].H), float64(got.H), 1e-9)
		})
	}
}

func TestUnknownNames(t *testing.T) {
	for _, name := range []string{"", "none", "../machines/diode-10w", "graphite-teal-sunflower.json"} {
		_, ok := assets.Stack(name)
		require.False(t, ok, name)
		_, ok = assets.Machine(name)
		require.False(t, ok, name)
		_, ok = assets.Panel(name)
		require.False(t, ok, name)
	}
}

func TestListsBelongToTheCaller(t *testing.T) {
	assets.StackNames()[0] = "changed"
	assets.Icon()[0] = 0
	require.Equal(t, assets.DemoStack, assets.StackNames()[0])
	require.Equal(t, byte(0x89), assets.Icon()[0])
}

func TestDemoJobIsWhole(t *testing.T) {
	require.Equal(t, assets.DemoStack, assets.StackNames()[0], "the demo's come first")
	require.Equal(t, assets.DemoMachine, assets.MachineNames()[0])
	require.Equal(t, assets.DemoPanel, assets.PanelNames()[0])

	data, _ := assets.Machine(assets.DemoMachine)
	m, err := burn.ReadMachine(data)
	require.NoError(t, err)
	setting := burn.Setting{
		PowerPercent: assets.DemoPowerPercent, Speed: layout.MMPerSecond(assets.DemoSpeedMMPerMin) / 60,
		Pitch: assets.DemoPitchMM, Passes: assets.DemoPasses,
	}
	require.NoError(t, setting.Validate(m))
	// Worked by hand: 100 x 6 W / (50 mm/s x 0.08 mm) = 150 J/cm2.
	require.InDelta(t, 150, burn.Dose(m, setting, 1), 1e-9)

	p, err := layout.Place(readPanel(t, assets.DemoPanel).Panel, layout.Even(assets.DemoBorderMM), assets.DemoPitchMM)
	require.NoError(t, err)
	require.Equal(t, [2]int{3600, 4850}, [2]int{p.Grid.Cols, p.Grid.Rows})
	fit, err := layout.Reach{Bed: m.Bed, RunUp: m.RunUp}.Fit(p, layout.Cuts{})
	require.NoError(t, err)
	require.Equal(t, layout.Upright, fit.How, fit.Words)
}

func TestDemoPicture(t *testing.T) {
	data := assets.DemoPicture()
	require.LessOrEqual(t, len(data), 3<<20)
	head, err := jpeg.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, 3072, head.Width)
	require.Equal(t, 4096, head.Height)
}

func TestIcon(t *testing.T) {
	head, err := png.DecodeConfig(bytes.NewReader(assets.Icon()))
	require.NoError(t, err)
	require.Equal(t, 512, head.Width)
	require.Equal(t, 512, head.Height)
}

func TestLicencesNameTheFont(t *testing.T) {
	require.Contains(t, assets.Licences(), "Copyright (c) 2016 Bigelow & Holmes Inc.")
	require.Contains(t, assets.Licences(), "Redistributions in binary form must reproduce")
}
