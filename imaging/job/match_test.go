package job_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/layout"
)

// stripes is a picture of even stripes in the colours of the starter stack's paints,
// and the picture area of a panel that they fill.
func stripes(t *testing.T, match job.Match) *job.Job {
	t.Helper()
	d := plain(t, 20, 15, 0.05)
	stack, err := job.FindStack("graphite-teal-sunflower")
	require.NoError(t, err)
	d.Stack = stack
	d.Machine.PowerPerPixel = true
	d.Match = match
	d.Setting.PowerPercent = 100
	colours := []color.Color{}
	for _, c := range stack.Coats {
		colours = append(colours, color.RGBA{c.Colour.R, c.Colour.G, c.Colour.B, 255})
	}
	g := stack.Ground.Colour
	colours = append(colours, color.RGBA{g.R, g.G, g.B, 255})
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			img.Set(x, y, colours[x*len(colours)/400])
		}
	}
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, img))
	return withPicture(t, d, "stripes.png", data.Bytes())
}

func readGrey(t *testing.T, path string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return img.(*image.Gray)
}

// burnedShare is the share of black dots in one of four stripes, away from its edges.
func burnedShare(img *image.Gray, stripe int) float64 {
	w := img.Rect.Dx() / 4
	n := 0
	r := image.Rect(stripe*w+12, 12, (stripe+1)*w-12, img.Rect.Dy()-12)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if img.GrayAt(x, y).Y == 0 {
				n++
			}
		}
	}
	return float64(n) / float64(r.Dx()*r.Dy())
}

func TestStepsBurnEachStripeInItsOwn(t *testing.T) {
	for _, match := range []job.Match{job.MatchSteps, job.MatchNestedSteps} {
		t.Run(string(match), func(t *testing.T) {
			dir, h := prepared(t, stripes(t, match))
			require.Len(t, h.Note.Steps, 3)
			require.NoFileExists(t, filepath.Join(dir, job.RasterFile))
			var steps []*image.Gray
			for i, s := range h.Note.Steps {
				require.Equal(t, job.StepFile(i), s.File)
				require.Equal(t, s.File, h.Note.Files[i].Name)
				steps = append(steps, readGrey(t, filepath.Join(dir, s.File)))
			}
			require.Equal(t, "teal", h.Note.Steps[0].Uncovers)
			if match == job.MatchSteps {
				require.Less(t, h.Note.Steps[0].PowerPercent, h.Note.Steps[1].PowerPercent)
				require.Less(t, h.Note.Steps[1].PowerPercent, h.Note.Steps[2].PowerPercent)
			}
			for stripe := range 4 {
				for step := range 3 {
					burned := step == stripe-1
					if match == job.MatchNestedSteps {
						burned = step <= stripe-1
					}
					if burned {
						require.Greater(t, burnedShare(steps[step], stripe), 0.85, "stripe %d in step %d", stripe, step+1)
					} else {
						require.Less(t, burnedShare(steps[step], stripe), 0.15, "stripe %d in step %d", stripe, step+1)
					}
				}
			}
			if match == job.MatchSteps {
				for y := range steps[0].Rect.Dy() {
					for x := range steps[0].Rect.Dx() {
						burns := 0
						for _, s := range steps {
							if s.GrayAt(x, y).Y == 0 {
								burns++
							}
						}
						require.LessOrEqual(t, burns, 1)
					}
				}
			}
			j := stripes(t, match)
			one := j.Document.BurnTime(layout.Grid{Cols: 400, Rows: 300, Pitch: 0.05}, nil).Seconds()
			require.Greater(t, h.Note.BurnTimeS, one/2)
			require.Less(t, h.Note.BurnTimeS, 3.01*one)
		})
	}
}

func TestPowerForEachDotIsAnEightBitRaster(t *testing.T) {
	dir, h := prepared(t, stripes(t, job.MatchPower))
	require.Equal(t, 8, h.Note.RasterBits)
	img := readGrey(t, filepath.Join(dir, job.RasterFile))
	require.Equal(t, image.Rect(0, 0, 400, 300), img.Rect)
	mean := func(stripe int) float64 {
		sum, n := 0.0, 0
		for y := 20; y < 280; y++ {
			for x := stripe*100 + 20; x < stripe*100+80; x++ {
				sum += float64(img.GrayAt(x, y).Y)
				n++
			}
		}
		return sum / float64(n)
	}
	require.Greater(t, mean(0), 230.0, "the top coat is left alone")
	for stripe := 1; stripe < 4; stripe++ {
		require.Less(t, mean(stripe), mean(stripe-1)-10, "stripe %d lies deeper than the one before", stripe)
	}
}

func TestPowerForEachDotNeedsAMachineForIt(t *testing.T) {
	j := stripes(t, job.MatchPower)
	j.Document.Machine.PowerPerPixel = false
	require.ErrorContains(t, j.Document.Validate(), "a power for each dot")
	j.Document.Match = "colour"
	require.ErrorContains(t, j.Document.Validate(), "choose one of")
}

// The proof of a raster matched by colour shows the paints that the picture asked for.
func TestTheProofOfStepsShowsThePaints(t *testing.T) {
	for _, match := range job.Matches()[1:] {
		t.Run(string(match), func(t *testing.T) {
			j := stripes(t, match)
			v, err := j.Develop(t.Context(), nil)
			require.NoError(t, err)
			img, err := v.Proof(t.Context(), job.ProofRequest{Long: 400}, nil)
			require.NoError(t, err)
			for stripe := range 4 {
				want := j.Document.Stack.Ground.Colour
				if stripe < 3 {
					want = j.Document.Stack.Coats[stripe].Colour
				}
				got := meanColour(img, image.Rect(stripe*100+30, 100, stripe*100+70, 200))
				off := colour.DE2000(got.Lab(), want.Linear().Lab())
				t.Logf("stripe %d: off by CIEDE2000 %.1f", stripe, off)
				require.Less(t, off, 12.0)
			}
		})
	}
}

func meanColour(img *image.RGBA, r image.Rectangle) colour.Linear {
	var sum colour.Linear
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c := img.RGBAAt(x, y)
			sum = sum.Add(colour.Stored{R: c.R, G: c.G, B: c.B}.Linear())
		}
	}
	return sum.Scale(1 / float64(r.Dx()*r.Dy()))
}
