package compare

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/imaging/swatch/photo"
	"undercoat/layout"
)

// TrialResult is how a burned trial and its proof compare.
type TrialResult struct {
	Corners    [4]layout.PicturePoint // of the scrap in the photograph, as the note measures it
	Pieces     []PieceResult          // from left to right
	MeantPower float64                // at which the panel was meant to look as it is meant to
	// Closest is the power of the piece that looks most like what was meant, in percent;
	// 0 where no piece could be read.
	Closest float64
	Dose    DoseFactor // that explains all pieces together
	// Disagree tells that no one factor explains all pieces.
	Disagree    bool
	CloserPower float64 // that should look as is meant, percent; 0 where none in range
	Words       []string
	Photo       *image.RGBA // straightened and evened out
	Proof       *image.RGBA // the same view as set
	Map         *image.RGBA // CIEDE2000 from 0, white, to MapFull and more, black
}

// PieceResult is one piece of a trial. Its colour differences are CIEDE2000 between the
// evened photograph and the piece's own proof, softened so that dots do not count.
type PieceResult struct {
	Number       int        `json:"number"`
	PowerPercent float64    `json:"power_percent"`
	Mean         float64    `json:"mean_de00"`
	P95          float64    `json:"p95_de00"`
	Largest      float64    `json:"largest_de00"`
	ToMeant      float64    `json:"mean_de00_to_meant"` // to the look at the job's own power
	Dose         DoseFactor `json:"dose"`
	LeftOut      string     `json:"left_out,omitempty"` // why it tells nothing; the figures are 0 then
}

// trialOn is a trial's comparison under way.
type trialOn struct {
	comparison
	folder *job.TrialFolder
	pieces []image.Rectangle // of the pieces in the view
	owner  []int             // piece that each column of the view is nearest to
	nodes  []*looks          // proofs of the scrap at the doses of factorAt
	photo  *looks            // straightened
}

// Trial compares a photograph, the bytes of the file called name, of a burned trial with
// what was prepared in its folder. The corners of o are those of the four marks, for a
// photograph in which they are not found.
func Trial(ctx context.Context, t *job.TrialFolder, name string, data []byte, o Options) (*TrialResult, error) {
	pic, err := job.OpenPicture(ctx, name, data)
	if err != nil {
		return nil, err
	}
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{R: 255, G: 255, B: 255})
	if err != nil {
		return nil, err
	}
	src, recipe, err := t.Raster.Burning(t.Scrap.Recipe())
	if err != nil {
		return nil, err
	}
	c := &trialOn{folder: t}
	c.comparison = comparison{ctx: ctx, Request: Request{Recipe: recipe, Raster: src, Placement: t.Placement, Photo: light, Progress: o.Progress}}
	if c.Progress == nil {
		c.Progress = func(float64) {}
	}
	c.layOut()
	corners, err := c.locate(light, o.Corners)
	if err != nil {
		return nil, err
	}
	if err := c.proofs(); err != nil {
		return nil, err
	}
	corners = c.aligned(corners, c.nodes[nodes/2])
	if c.photo, err = c.straightened(corners); err != nil {
		return nil, err
	}
	r, err := c.result()
	if err != nil {
		return nil, err
	}
	r.Corners = corners
	c.Progress(1)
	return r, nil
}

// The view of a trial shows the short side of a piece on so many pixels, as far as the
// whole keeps within bounds.
const (
	pieceShort  = 90
	longestView = 1600
)

// layOut finds the view's size and where the pieces lie in it.
func (c *trialOn) layOut() {
	pl := c.Placement
	first := c.folder.Pieces[0]
	short := float64(min(first.Cols.Len(), first.Rows.Len())) * float64(pl.Grid.Pitch)
	size := pl.Panel.Size
	long := float64(max(size.W, size.H))
	c.w, c.h = size.FitLong(int(min(longestView, max(viewLong, math.Ceil(long*pieceShort/short)))))
	perMM := float64(c.w) / float64(size.W)
	for _, p := range c.folder.Pieces {
		at := pl.Part(p.Rows, p.Cols).Corners
		x := func(l layout.MM) int { return int(math.Round(float64(size.W/2+l) * perMM)) }
		y := func(l layout.MM) int { return int(math.Round(float64(size.H/2-l) * perMM)) }
		r := image.Rect(x(at[0].X), y(at[0].Y), x(at[2].X), y(at[2].Y)).Intersect(image.Rect(0, 0, c.w, c.h))
		c.pieces = append(c.pieces, r)
	}
	c.owner = make([]int, c.w)
	for x := range c.owner {
		for i := 1; i < len(c.pieces); i++ {
			if 2*x >= c.pieces[i-1].Max.X+c.pieces[i].Min.X {
				c.owner[x] = i
			}
		}
	}
}

// locate finds the scrap in the photograph by its marks.
func (c *trialOn) locate(light *plane.RGB16, given *[4]layout.PicturePoint) ([4]layout.PicturePoint, error) {
	var out [4]layout.PicturePoint
	if light.W < minPhotoSide || light.H < minPhotoSide {
		return out, fmt.Errorf("the photograph is %d x %d pixels and at least %d x %d are needed: take a larger one", light.W, light.H, minPhotoSide, minPhotoSide)
	}
	at, err := c.marks(light, given)
	switch {
	case errors.Is(err, photo.ErrNoChart):
		return out, errors.New("the trial's corner marks are not found in the photograph: take one that shows all four with a little unburned paint around them, or give the four corners")
	case err != nil:
		return out, err
	case at.Mirrored:
		return out, errors.New("the photograph is mirrored: use it as the camera took it")
	}
	raster, scrap := c.folder.Marks.Size, c.Placement.Panel.Size
	to, err := layout.FromCorners(at.Corners, float64(raster.W), float64(raster.H))
	if err != nil {
		return out, err
	}
	dx, dy := float64(scrap.W-raster.W)/2, float64(scrap.H-raster.H)/2
	for i, p := range frameCorners(1, 1) {
		out[i] = to.Apply(layout.PicturePoint{X: p.X*float64(scrap.W) - dx, Y: p.Y*float64(scrap.H) - dy})
	}
	return out, nil
}

// coarseLong is the long side of the copy in which marks are looked for once more: of a
// wide pitch they show as stripes from near by, and melt into squares when seen small.
const coarseLong = 360

// marks finds the scrap's marks.
func (c *trialOn) marks(light *plane.RGB16, given *[4]layout.PicturePoint) (photo.Place, error) {
	at, err := photo.Locate(c.ctx, light, c.folder.Marks, given)
	if given != nil || !errors.Is(err, photo.ErrNoChart) || max(light.W, light.H) <= coarseLong {
		return at, err
	}
	small, err := resample.View(c.ctx, light, layout.Crop{W: float64(light.W), H: float64(light.H)}, coarseLong, coarseLong)
	if err != nil {
		return at, err
	}
	if at, err = photo.Locate(c.ctx, small, c.folder.Marks, nil); err != nil {
		return at, err
	}
	for i := range at.Corners {
		at.Corners[i].X *= float64(light.W) / float64(small.W)
		at.Corners[i].Y *= float64(light.H) / float64(small.H)
	}
	return at, nil
}

// proofs makes those of the scrap at all doses.
func (c *trialOn) proofs() error {
	for node := range nodes {
		c.Progress(float64(node) / (nodes + 1)) // nearly all of the work
		l, err := c.proofAt(factorAt(node))
		if err != nil {
			return err
		}
		c.nodes = append(c.nodes, l)
	}
	return nil
}

// meant is the scrap with the look that is meant on every piece.
func (c *trialOn) meant() *looks {
	out := newLooks(c.w, c.h)
	for i, p := range c.folder.Pieces {
		part := c.Placement.Part(p.Rows, p.Cols)
		l := looksOf(proof.Panel(c.Recipe, part, c.folder.Meant, c.w, c.h))
		for k := range out.pix {
			if c.owner[k%c.w] == i {
				out.pix[k] = l.pix[k]
			}
		}
	}
	return out
}

// Sheet is the photograph, the proof and the map of their differences, one below the
// other.
func (r *TrialResult) Sheet() *image.RGBA { return below(r.Photo, r.Proof, r.Map) }
