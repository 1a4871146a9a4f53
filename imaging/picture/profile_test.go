package picture

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// rgbOf decodes a file to colour.
func rgbOf(t testing.TB, data []byte) (*Picture, *plane.RGB16) {
	t.Helper()
	p, err := Decode(context.Background(), data, Limits{})
	require.NoError(t, err)
	c, err := p.RGB(context.Background(), Turn{}, colour.Stored{})
	require.NoError(t, err)
	return p, c
}

func lightAt(c *plane.RGB16, x, y int) colour.Linear {
	px := c.Row(y)[3*x:]
	return colour.Linear{R: float64(px[0]) / full, G: float64(px[1]) / full, B: float64(px[2]) / full}
}

// fromD50 is linear sRGB of XYZ under D50.
// Source for the matrix: Bradford, inverse of the one in the tests of
// colour-science/colour, adaptation/tests/test_vonkries.py.
func fromD50(x, y, z float64) colour.Linear {
	return colour.XYZ{
		X: 0.95551259*x - 0.02307298*y + 0.06330908*z,
		Y: -0.02832476*x + 1.00994293*y + 0.02105444*z,
		Z: 0.01232870*x - 0.02053531*y + 1.33071369*z,
	}.Linear()
}

// meant is what a matrix profile says of stored values, worked out from the profile
// alone. Source: ICC.1:2022, F.3.
func meant(columns [3][3]float64, curve func(float64) float64, r, g, b float64) colour.Linear {
	r, g, b = curve(r), curve(g), curve(b)
	c := columns
	return fromD50(c[0][0]*r+c[1][0]*g+c[2][0]*b, c[0][1]*r+c[1][1]*g+c[2][1]*b, c[0][2]*r+c[1][2]*g+c[2][2]*b)
}

func cut(l colour.Linear) colour.Linear {
	return colour.Linear{R: max(0, min(l.R, 1)), G: max(0, min(l.G, 1)), B: max(0, min(l.B, 1))}
}

// Parametric curves of all kinds. Source: ICC.1:2022, table 68.
var paraCurves = []struct {
	name  string
	tag   []byte
	curve func(v float64) float64
}{
	{"power", iccPara(2.2), func(v float64) float64 { return math.Pow(v, 2.2) }},
	{"power from a point on", iccPara(2, 1.1, -0.1), func(v float64) float64 {
		if v < 0.1/1.1 {
			return 0
		}
		return math.Pow(1.1*v-0.1, 2)
	}},
	{"power over a straight line", iccPara(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045), colour.Decode},
	{"sRGB with offsets of nothing", iccPara(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045, 0, 0), colour.Decode},
	{"gamma", iccGamma(2.19921875), func(v float64) float64 { return math.Pow(v, 2.19921875) }},
	{"table", iccTable(1024, func(v float64) float64 { return math.Pow(v, 1.8) }), func(v float64) float64 { return math.Pow(v, 1.8) }},
	{"straight", iccTable(2, func(v float64) float64 { return v }), func(v float64) float64 { return v }},
}

// Wide-gamut swatches come out as their profile says, in every format that holds one.
// Source: ICC.1:2022, F.3, for what a profile of three lights means; CIEDE2000 as in
// the colour package.
func TestMatrixProfilesAreFollowed(t *testing.T) {
	swatches := []color.NRGBA{{204, 102, 77, 255}, {255, 255, 255, 255}, {0, 0, 0, 255}, {128, 128, 128, 255},
		{20, 20, 20, 255}, {90, 180, 60, 255}, {60, 90, 160, 255}, {10, 40, 25, 255}, {240, 200, 150, 255}, {255, 0, 0, 255}, {0, 255, 0, 255}}
	img := image.NewNRGBA(image.Rect(0, 0, 16*len(swatches), 16))
	for i := range img.Rect.Dx() * 16 {
		img.SetNRGBA(i%img.Rect.Dx(), i/img.Rect.Dx(), swatches[i%img.Rect.Dx()/16])
	}
	for _, space := range []struct {
		name    string
		columns [3][3]float64
	}{{"P3", p3Columns}, {"wide RGB", wideColumns}} {
		for _, c := range paraCurves {
			for _, version := range []byte{2, 4} {
				if version == 2 && string(c.tag[:4]) == "para" {
					continue // formulas came with version 4
				}
				icc := iccThreeLights(version, space.columns, c.tag)
				for name, file := range map[string][]byte{
					"PNG":           withChunks(pngOf(t, img), iccpChunk(icc)),
					"TIFF":          withTIFFProfile(tiffOf(t, img, tiff.Deflate), icc),
					"JPEG in parts": withJPEGProfile(jpegOf(t, img), icc, 100),
				} {
					t.Run(fmt.Sprintf("%s %s v%d %s", space.name, c.name, version, name), func(t *testing.T) {
						p, got := rgbOf(t, file)
						require.Equal(t, "made up", p.Header().Profile)
						require.Empty(t, p.Header().ProfileNote)
						grey, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
						require.NoError(t, err)
						for i, s := range swatches {
							want := meant(space.columns, c.curve, float64(s.R)/255, float64(s.G)/255, float64(s.B)/255)
							most := 0.1
							if name[0] == 'J' {
								most = 1 // the file holds the swatch to a code value or so
							}
							require.Less(t, colour.DE2000(cut(want).Lab(), lightAt(got, 16*i+8, 8).Lab()), most, "swatch %v", s)
							require.InDelta(t, want.Y(), float64(grey.Row(8)[16*i+8])/full, 0.0002+0.01*(most-0.1), "luminance of %v", s)
						}
					})
				}
			}
		}
	}
}

// Source: derived from the published primaries of Display P3 (SMPTE EG 432-1:2010)
// and sRGB (IEC 61966-2-1:1999): stored P3 .8 .4 .3 is stored sRGB .85957 .37040 .26742.
func TestDisplayP3ComesOutAsPublished(t *testing.T) {
	img := image.NewNRGBA64(image.Rect(0, 0, 1, 1))
	img.SetNRGBA64(0, 0, color.NRGBA64{R: 52428, G: 26214, B: 19661, A: full})
	m, err := p3Primaries.toSRGB()
	require.NoError(t, err)
	for r, row := range [][3]float64{{1.22494, -0.22494, 0}, {-0.04206, 1.04206, 0}, {-0.01964, -0.07864, 1.09827}} {
		for c, want := range row {
			require.InDelta(t, want, m[r][c], 6e-6)
		}
	}
	for name, file := range map[string][]byte{
		"profile v4": withChunks(pngOf(t, img), iccpChunk(iccThreeLights(4, p3Columns, paraCurves[2].tag))),
		"cICP":       withChunks(pngOf(t, img), chunkOf("cICP", []byte{12, 13, 0, 1})),
		"cHRM":       withChunks(pngOf(t, img), chunkOf("cHRM", be32(31270, 32900, 68000, 32000, 26500, 69000, 15000, 6000))),
	} {
		_, got := rgbOf(t, file)
		l := lightAt(got, 0, 0)
		require.InDelta(t, 0.85957, colour.Encode(l.R), 1e-4, name)
		require.InDelta(t, 0.37040, colour.Encode(l.G), 1e-4, name)
		require.InDelta(t, 0.26742, colour.Encode(l.B), 1e-4, name)
	}
}

// Each of the 65536 greys through grey profiles. Source: ICC.1:2022, F.2: the curve
// gives the share of the white's luminance, or of its lightness where the connection
// space is Lab.
func TestGreyProfilesAreExact(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 256, 256))
	for i := range 65536 {
		img.Pix[2*i], img.Pix[2*i+1] = byte(i>>8), byte(i)
	}
	square := func(v float64) float64 { return math.Pow(v, 1.796875) }
	for _, c := range []struct {
		name string
		icc  []byte
		y    func(v float64) float64
	}{
		{"v2 gamma", iccGrey(2, "XYZ ", iccGamma(1.796875)), square},
		{"v4 sRGB", iccGrey(4, "XYZ ", paraCurves[2].tag), colour.Decode},
		{"v4 lightness", iccGrey(4, "Lab ", iccPara(0.8)), func(v float64) float64 { return colour.FromLStar(100 * math.Pow(v, 0.8)) }},
		{"v2 straight", iccGrey(2, "XYZ ", iccTable(2, func(v float64) float64 { return v })), func(v float64) float64 { return v }},
	} {
		t.Run(c.name, func(t *testing.T) {
			for name, file := range map[string][]byte{
				"PNG":  withChunks(pngOf(t, img), iccpChunk(c.icc)),
				"TIFF": withTIFFProfile(tiffOf(t, img, tiff.Deflate), c.icc),
			} {
				p, got := rgbOf(t, file)
				require.Empty(t, p.Header().ProfileNote)
				g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
				require.NoError(t, err)
				worst := 0.0
				for v := range 65536 {
					want := c.y(float64(v)/65535) * 65535
					worst = max(worst, math.Abs(want-float64(g.Pix[v])))
					for _, l := range got.Pix[3*v : 3*v+3] {
						worst = max(worst, math.Abs(want-float64(l)))
					}
				}
				require.Less(t, worst, 1.01, "%s, of 65535: the value and its luminance are each rounded once", name)
			}
		})
	}
}

// A profile's numbers are rounded, so that its three lights add up to nearly white;
// white stays white all the same, and greys stay grey.
func TestWhiteStaysWhiteAndGreysStayGrey(t *testing.T) {
	for _, c := range paraCurves {
		for _, columns := range [][3][3]float64{p3Columns, wideColumns} {
			p, err := openProfile(iccThreeLights(2, columns, c.tag), 3)
			require.NoError(t, err)
			s, err := p.space(context.Background())
			require.NoError(t, err)
			require.NotNil(t, s.matrix)
			require.EqualValues(t, weightOne, s.weights[0]+s.weights[1]+s.weights[2])
			for v := 0; v <= full; v += 257 {
				l := s.curves[0][v]
				px := []uint16{l, l, l}
				s.matrix.light(px)
				require.Equal(t, []uint16{l, l, l}, px, c.name)
				require.Equal(t, l, s.weights.luminance(l, l, l))
			}
		}
	}
}

// A profile that says no more than sRGB leaves the picture on the way that needs no
// matrix and shares the one table.
func TestSRGBProfilesTakeTheShortWay(t *testing.T) {
	srgb := [3][3]float64{{0.43607, 0.22249, 0.01392}, {0.38515, 0.71687, 0.09708}, {0.14307, 0.06061, 0.71410}}
	for name, icc := range map[string][]byte{
		"v4 formula":       iccThreeLights(4, srgb, paraCurves[2].tag),
		"v2 table of 1024": iccThreeLights(2, srgb, iccTable(1024, colour.Decode)),
		"v2 table of 4096": iccThreeLights(2, srgb, iccTable(4096, colour.Decode)),
	} {
		p, err := openProfile(icc, 3)
		require.NoError(t, err)
		s, err := p.space(context.Background())
		require.NoError(t, err)
		require.Nil(t, s.matrix, name)
		require.Nil(t, s.cube, name)
		require.Equal(t, rec709, s.weights, name)
		for _, c := range s.curves {
			require.Same(t, srgbCurve(), c, name)
		}
	}
}

// A grey picture under a profile of three channels is taken as three equal ones.
func TestGreyUnderAColourProfile(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 256, 1))
	for v := range 256 {
		img.Pix[v] = uint8(v)
	}
	_, g := greyOf(t, withChunks(pngOf(t, img), iccpChunk(iccThreeLights(2, wideColumns, iccGamma(2)))), Turn{})
	for v := range 256 {
		require.InDelta(t, float64(v*v)/(255*255)*65535, g.Pix[v], 1.5)
	}
}

// Outside sRGB each channel is cut by itself, while the grey keeps the luminance.
func TestColoursOutsideSRGB(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 1, 1))
	img.SetNRGBA(0, 0, color.NRGBA{255, 0, 0, 255})
	p, got := rgbOf(t, withChunks(pngOf(t, img), iccpChunk(iccThreeLights(4, p3Columns, iccPara(2.2)))))
	require.Equal(t, colour.Linear{R: 1}, lightAt(got, 0, 0))
	g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
	require.NoError(t, err)
	// Source: the luminance of Display P3's red, 0.22897, from its primaries; by the
	// rounded Rec. 709 weights 0.2290.
	require.InDelta(t, 0.2290, float64(g.Pix[0])/full, 2e-4)
}

// Transparency mixes what the profile makes of the colours, not the stored values.
func TestTransparencyUnderAProfile(t *testing.T) {
	table, err := formatOf(sample(t, "profile-stages.png"))
	require.NoError(t, err)
	facts, err := table.probe(sample(t, "profile-stages.png"))
	require.NoError(t, err)
	paper := colour.Stored{R: 200, G: 120, B: 40}
	for name, icc := range map[string][]byte{"three lights": iccThreeLights(4, p3Columns, iccPara(2.2)), "table": facts.profile} {
		opaque, half := image.NewNRGBA(image.Rect(0, 0, 1, 1)), image.NewNRGBA(image.Rect(0, 0, 1, 1))
		opaque.SetNRGBA(0, 0, color.NRGBA{180, 110, 90, 255})
		half.SetNRGBA(0, 0, color.NRGBA{180, 110, 90, 102})
		_, over := rgbOf(t, withChunks(pngOf(t, opaque), iccpChunk(icc)))
		p, err := Decode(context.Background(), withChunks(pngOf(t, half), iccpChunk(icc)), Limits{})
		require.NoError(t, err)
		got, err := p.RGB(context.Background(), Turn{}, paper)
		require.NoError(t, err)
		want := colour.Mix(paper.Linear(), lightAt(over, 0, 0), 0.4)
		require.InDelta(t, want.R, lightAt(got, 0, 0).R, 2.0/full, name)
		require.InDelta(t, want.G, lightAt(got, 0, 0).G, 2.0/full, name)
		require.InDelta(t, want.B, lightAt(got, 0, 0).B, 2.0/full, name)
		g, err := p.Grey(context.Background(), Turn{}, paper)
		require.NoError(t, err)
		require.InDelta(t, want.Y(), float64(g.Pix[0])/full, 3.0/full, name)
	}
}
