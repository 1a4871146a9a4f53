package session_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
	"undercoat/ui/session"
)

// openFinding is a session on a small job that tells what it finds.
func openFinding(t *testing.T) (*session.Session, <-chan session.Found) {
	t.Helper()
	stack, err := job.FindStack("")
	require.NoError(t, err)
	machine, err := job.FindMachine("")
	require.NoError(t, err)
	d := job.Blank(stack, machine)
	d.Panel.Size = layout.Size{W: 60, H: 80}
	d.Setting.Pitch = 0.2
	j, pic, err := job.New(t.Context(), d, "photo.jpeg", photo(t, 300, 200))
	require.NoError(t, err)
	found := make(chan session.Found, 64)
	s := session.New(j, pic, session.Options{
		Render: func(session.Picture) {},
		Found:  func(f session.Found) { found <- f },
	})
	t.Cleanup(s.Close)
	return s, found
}

// foundFor waits for what belongs to the job as it is; the time is only a bound on a
// broken run.
func foundFor(t *testing.T, s *session.Session, found <-chan session.Found) session.Found {
	t.Helper()
	for end := time.After(time.Minute); ; {
		select {
		case f := <-found:
			if f.Generation == s.Generation() {
				require.NoError(t, f.Err)
				return f
			}
		case <-end:
			t.Fatal("nothing was found")
		}
	}
}

func edit(t *testing.T, s *session.Session, change func(*job.Document)) {
	t.Helper()
	require.NoError(t, s.Edit("change", "", func(d *job.Document) error {
		change(d)
		return nil
	}))
}

func TestTheSharesThatAreCutOffAreFound(t *testing.T) {
	s, found := openFinding(t)
	edit(t, s, func(d *job.Document) { d.Picture.Tone.Black, d.Picture.Tone.White = 40, 60 })
	some := foundFor(t, s, found)
	require.Positive(t, some.Low)
	require.Positive(t, some.High)
	edit(t, s, func(d *job.Document) { d.Picture.Tone.Black, d.Picture.Tone.White = 46, 54 })
	more := foundFor(t, s, found)
	require.Greater(t, more.Low, some.Low)
	require.Greater(t, more.High, some.High)
	edit(t, s, func(d *job.Document) { d.Picture.Tone.Black, d.Picture.Tone.White = 0, 0 })
	none := foundFor(t, s, found)
	require.Zero(t, none.Low)
	require.Zero(t, none.High)
}

func TestWhyPartsBurnIsFoundAtTheSettingOfTheJob(t *testing.T) {
	s, found := openFinding(t)
	edit(t, s, func(d *job.Document) { d.Picture.Burns = job.BurnsDark })
	require.Equal(t, "dark parts burn, as chosen", foundFor(t, s, found).BurnsWhy)
	edit(t, s, func(d *job.Document) { d.Picture.Burns = job.BurnsByStack })
	byStack := foundFor(t, s, found).BurnsWhy
	require.Contains(t, byStack, "bright parts burn")
	edit(t, s, func(d *job.Document) { d.Stack.Ground.Name = "bare board" }) // another table, the same answer
	require.Contains(t, foundFor(t, s, found).BurnsWhy, "bright parts burn")
}

func TestLinesOfLetteringAndTheirCautionsAreFound(t *testing.T) {
	s, found := openFinding(t)
	line := lettering.Line{Text: "Text", Font: assets.DefaultFont, CapHeight: 10, Burn: true}
	edit(t, s, func(d *job.Document) { d.Lettering = []lettering.Line{line} })
	f := foundFor(t, s, found)
	require.Len(t, f.Letters, 1)
	require.Empty(t, f.LetterCautions)
	require.InDelta(t, 0, float64(f.Letters[0].Bounds.Centre.X), 0.01)

	edit(t, s, func(d *job.Document) { d.Lettering[0].At.X = 28 })
	f = foundFor(t, s, found)
	require.NotEmpty(t, f.LetterCautions, "it reaches past the picture")

	edit(t, s, func(d *job.Document) { d.Lettering[0].Font = "no such font" })
	for got := range found {
		if got.Generation == s.Generation() {
			require.ErrorContains(t, got.Err, "no such font")
			break
		}
	}
}

func TestTonesAreCountedBeforeTheCurve(t *testing.T) {
	s, found := openFinding(t)
	edit(t, s, func(d *job.Document) { d.Picture.Tone.Mid = 0.2 })
	first := foundFor(t, s, found).Tones
	sum := 0.0
	for _, share := range first {
		sum += share
	}
	require.InDelta(t, 1, sum, 1e-9)

	edit(t, s, func(d *job.Document) {
		var err error
		d.Picture.Tone.Curve, err = picture.NewCurve(picture.CurvePoint{From: 0, To: 40}, picture.CurvePoint{From: 100, To: 60})
		require.NoError(t, err)
	})
	require.Equal(t, first, foundFor(t, s, found).Tones, "the curve is not in it")
	edit(t, s, func(d *job.Document) { d.Picture.Tone.Black = 60 })
	second := foundFor(t, s, found).Tones
	require.Greater(t, second[0], first[0]+0.2)
}

func TestAJobWithoutAPictureIsShown(t *testing.T) {
	pictures := make(chan session.Picture, 16)
	s := open(t, func(p session.Picture) { pictures <- p })
	require.NoError(t, s.Edit("lettering", "", func(d *job.Document) error {
		d.Lettering = []lettering.Line{{Text: "TT", Font: assets.DefaultFont, CapHeight: 30, Burn: true}}
		return nil
	}))
	s.RemovePicture()
	w, h := s.PictureSize()
	require.Zero(t, w+h)
	s.Show(session.Frame{View: session.ProofView, W: 96, H: 136})
	var p session.Picture
	for p = next(t, pictures); !p.Last; p = next(t, pictures) {
	}
	require.NoError(t, p.Err)
	require.True(t, p.Exact)
	bare := p.Image.RGBAAt(2, 2)
	letters := false
	for y := range p.Image.Bounds().Dy() {
		for x := range p.Image.Bounds().Dx() {
			letters = letters || p.Image.RGBAAt(x, y).R > bare.R+60
		}
	}
	require.True(t, letters, "letters burned through dark paint are lighter")
	require.True(t, s.Undo())
	require.True(t, s.Document().HasPicture())
}
