package library_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/assets"
	"undercoat/imaging/export"
	"undercoat/imaging/library"
	"undercoat/layout"
)

func starter(t *testing.T, get func(string) ([]byte, bool), name string) []byte {
	t.Helper()
	data, ok := get(name)
	require.True(t, ok)
	return data
}

// ratesFile is made up.
const ratesFile = `{"kind":"undercoat-rates","version":1,"currency":"EUR","panel":8,"can":9,"other":2,"machine_hour":3,"hand_hour":25}`

func TestAnEmptyLibraryHoldsTheStarters(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "none")
	l := library.In(dir)
	all, err := l.List()
	require.NoError(t, err)
	require.Len(t, all, len(assets.StackNames())+len(assets.MachineNames())+len(assets.PanelNames()))
	for _, e := range all {
		require.True(t, e.Starter)
		require.NoError(t, e.Err)
		require.NotEmpty(t, e.Title)
	}
	require.Empty(t, l.Broken())
	s, err := l.Stack("")
	require.NoError(t, err)
	first, err := l.Stack(assets.StackNames()[0])
	require.NoError(t, err)
	require.Equal(t, first, s)
	require.NoDirExists(t, dir, "reading makes no folder")
}

func TestTheZeroLibraryIsTheStartersAlone(t *testing.T) {
	t.Chdir(t.TempDir()) // nothing may be read or written beside the program
	require.NoError(t, os.Mkdir("stacks", 0o700))
	require.NoError(t, os.WriteFile("stacks/mine.json", starter(t, assets.Stack, "slate-cream"), 0o600))
	var l library.Library
	_, err := l.Stack("mine")
	require.Error(t, err)
	all, err := l.List()
	require.NoError(t, err)
	for _, e := range all {
		require.True(t, e.Starter)
	}
	_, err = l.Save("x", []byte(ratesFile), false)
	require.Error(t, err)
	require.Error(t, l.SetDefaults(library.Defaults{Unit: "in"}))
	require.Error(t, l.Remove(library.Stack, "mine"))
	require.FileExists(t, "stacks/mine.json")
}

func TestEveryKindIsKeptAndFound(t *testing.T) {
	l := library.In(t.TempDir())
	panel, err := library.PanelEntry{Name: "door sign", Panel: layout.Panel{Kind: layout.Board, Size: layout.Size{W: 200, H: 80}}}.JSON()
	require.NoError(t, err)
	for kind, data := range map[library.Kind][]byte{
		library.Stack:    starter(t, assets.Stack, "slate-cream"),
		library.Machine:  starter(t, assets.Machine, "diode-1w6"),
		library.Panel:    panel,
		library.Rates:    []byte(ratesFile),
		library.Readings: []byte(`{"kind":"undercoat-readings","version":1,"swatches":[{"id":"A1","power_percent":10,"speed_mm_per_min":1000,"pitch_mm":0.1,"passes":1,"optical_power_w":5,"seen":"slate"}]}`),
	} {
		t.Run(string(kind), func(t *testing.T) {
			e, err := l.Save("Möwe 1", data, false)
			require.NoError(t, err)
			require.Equal(t, kind, e.Kind)
			back, err := l.Bytes(kind, "Möwe 1")
			require.NoError(t, err)
			require.Equal(t, string(data), string(back), "kept as it came")
			require.Contains(t, l.Names(kind), "Möwe 1")

			_, err = l.Save("Möwe 1", data, false)
			require.ErrorIs(t, err, os.ErrExist)
			_, err = l.Save("Möwe 1", data, true)
			require.NoError(t, err)
		})
	}
	s, err := l.Stack("Möwe 1")
	require.NoError(t, err)
	require.Contains(t, s.Name, "slate")
	m, err := l.Machine("Möwe 1")
	require.NoError(t, err)
	require.InDelta(t, 1.6, m.OpticalPowerW, 1e-12)
	p, err := l.Panel("Möwe 1")
	require.NoError(t, err)
	require.Equal(t, "door sign", p.Name)
	r, err := l.Rates("Möwe 1")
	require.NoError(t, err)
	require.Equal(t, "EUR", r.Currency)

	for _, kind := range library.Kinds() {
		require.NoError(t, l.Remove(kind, "Möwe 1"))
		var none *library.NoEntryError
		require.ErrorAs(t, l.Remove(kind, "Möwe 1"), &none)
	}
}

func TestTheUsersEntryHidesAStarter(t *testing.T) {
	l := library.In(t.TempDir())
	name := assets.StackNames()[0]
	_, err := l.Save(name, starter(t, assets.Stack, "night-white-navy"), false)
	require.NoError(t, err)
	s, err := l.Stack(name)
	require.NoError(t, err)
	require.Contains(t, s.Name, "navy")
	all, err := l.List()
	require.NoError(t, err)
	count := 0
	for _, e := range all {
		if e.Kind == library.Stack && e.Name == name {
			count++
			require.False(t, e.Starter)
		}
	}
	require.Equal(t, 1, count)
	require.NoError(t, l.Remove(library.Stack, name))
	require.ErrorContains(t, l.Remove(library.Stack, name), "came with the program")
	s, err = l.Stack(name)
	require.NoError(t, err)
	require.NotContains(t, s.Name, "navy", "the starter shows again")
}

func TestABrokenEntryIsNamedAndPassedOver(t *testing.T) {
	dir := t.TempDir()
	l := library.In(dir)
	_, err := l.Save("good", starter(t, assets.Stack, "slate-cream"), false)
	require.NoError(t, err)
	for name, text := range map[string]string{
		"cut": `{"kind":"undercoat-stack"`, "song": "la la", "other": ratesFile, "huge": strings.Repeat(" ", 4<<20+1),
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "stacks", name+".json"), []byte(text), 0o600))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stacks", "readme.txt"), []byte("not an entry"), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "stacks", "folder.json"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "defaults.json"), []byte("{"), 0o600))

	var broken []string
	for _, e := range l.Broken() {
		require.Error(t, e.Err)
		require.FileExists(t, e.File)
		broken = append(broken, e.Name)
	}
	require.Equal(t, []string{"cut", "huge", "other", "song", "defaults"}, broken)
	_, err = l.Stack("good")
	require.NoError(t, err)
	_, err = l.Stack("")
	require.NoError(t, err, "broken defaults are none")
	_, err = l.Stack("cut")
	require.ErrorContains(t, err, "stack cut: stack file: the JSON ends too early")
}

func TestWhatIsNoEntryIsNotKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	l := library.In(dir)
	_, err := l.Save("x", []byte(`{"kind":"undercoat-chart"}`), false)
	require.ErrorContains(t, err, `kind is "undercoat-chart": choose a file whose kind is one of undercoat-stack`)
	_, err = l.Save("x", []byte(`{"kind":"undercoat-stack","version":1}`), false)
	require.ErrorContains(t, err, "ground.colour is missing")
	for _, name := range []string{"", " ", "a/b", `a\b`, "..", ".x", "-x", "x.json", "x.", " x", "a\nb", "a:b", strings.Repeat("x", 101)} {
		_, err = l.Save(name, []byte(ratesFile), false)
		require.ErrorContains(t, err, "choose another", "%q", name)
		_, err = l.Bytes(library.Rates, name)
		require.Error(t, err, "%q", name)
	}
	require.NoDirExists(t, dir)
}

func TestNoSuchEntryNamesThoseThereAre(t *testing.T) {
	l := library.In(t.TempDir())
	_, err := l.Machine("laser")
	require.EqualError(t, err, `there is no machine called "laser": choose one of diode-10w, diode-1w6, diode-5w5, or name a JSON file`)
	_, err = l.Rates("")
	require.EqualError(t, err, `there is no entry of rates called "": import one, or name a JSON file`)
}

func TestDefaultsServeWhereNothingIsNamed(t *testing.T) {
	l := library.In(t.TempDir())
	d, err := l.Defaults()
	require.NoError(t, err)
	require.Equal(t, library.Defaults{Kind: library.DefaultsKind, Version: 1}, d)
	_, err = l.Save("mine", starter(t, assets.Stack, "slate-cream"), false)
	require.NoError(t, err)
	_, err = l.Save("shop", []byte(ratesFile), false)
	require.NoError(t, err)
	require.NoError(t, l.SetDefaults(library.Defaults{Stack: "mine", Machine: "diode-1w6", Panel: "tile-6in", Rates: "shop", Unit: "in"}))
	s, err := l.Stack("")
	require.NoError(t, err)
	require.Contains(t, s.Name, "slate")
	m, err := l.Machine("")
	require.NoError(t, err)
	require.InDelta(t, 1.6, m.OpticalPowerW, 1e-12)
	p, err := l.Panel("")
	require.NoError(t, err)
	require.Equal(t, layout.Tile, p.Panel.Kind)
	_, err = l.Rates("")
	require.NoError(t, err)
	d, err = l.Defaults()
	require.NoError(t, err)
	require.Equal(t, "in", d.Unit)

	require.ErrorContains(t, l.SetDefaults(library.Defaults{Machine: "none"}), "there is no machine")
	require.ErrorContains(t, l.SetDefaults(library.Defaults{Unit: "ell"}), "unit")
	require.NoError(t, l.Remove(library.Stack, "mine"))
	_, err = l.Stack("")
	require.ErrorContains(t, err, `there is no stack called "mine"`, "the default is not quietly another stack")
}

func TestAReadOnlyLibraryIsAnErrorOfWriting(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("needs a user whom permissions bind: skipped for an administrator and on Windows")
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o500))
	defer os.Chmod(dir, 0o700)
	_, err := library.In(dir).Save("x", []byte(ratesFile), false)
	var write *export.WriteError
	require.True(t, errors.As(err, &write), "%v", err)
}

// Any name that is taken can be kept, found and removed again, and stays in its folder.
func TestAnyNameThatIsTakenWorks(t *testing.T) {
	dir := t.TempDir()
	l := library.In(dir)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[\p{L}\p{N}. ,;'&()+=@-]{1,25}`).Draw(t, "name")
		if library.CheckName(name) != nil {
			return
		}
		e, err := l.Save(name, []byte(ratesFile), false)
		require.NoError(t, err)
		require.Equal(t, filepath.Join(dir, "rates"), filepath.Dir(e.File))
		require.Contains(t, l.Names(library.Rates), name)
		require.NoError(t, l.Remove(library.Rates, name))
	})
}
