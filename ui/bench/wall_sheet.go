package bench

import (
	"context"
	"image"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/scene"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// wallSheet shows the finished panel on a wall, to scale, as the section of the Hand-off
// drawer sets it.
type wallSheet struct {
	*cards
	wall session.Wall
	sets []string // the stacks to show side by side, by name; none: the job's own alone
}

func newWallSheet(b *Bench) *wallSheet {
	return &wallSheet{
		cards: newCards(b, lang.X("wall.title", "On a wall"),
			lang.X("wall.what", "The finished panel on a wall, to scale, with its painted edge and its clear coat. Room, wall paint, a photograph and other paints are set in the Hand-off drawer.")),
		wall: session.Wall{Room: scene.Living, Paint: job.UsualWall},
	}
}

func wallName() string { return lang.X("view.wall", "Wall") }

// ShowWall shows the panel on a wall.
func (b *Bench) ShowWall() { b.showSheet(b.wall) }

// stacks are those to show side by side.
func (s *wallSheet) stacks() ([]coat.Stack, error) {
	var out []coat.Stack
	for _, name := range s.sets {
		stack, err := called(s.bench.shelf.stacks, name)
		if err != nil {
			return nil, err
		}
		out = append(out, stack)
	}
	return out, nil
}

// changed works the wall out anew where it is on show.
func (s *wallSheet) changed() {
	if s.bench.sheet == sheet(s) {
		s.begin()
	}
}

// The share of the window that the view takes, and the shape of a room.
const (
	wallShare  = 0.7
	wallAspect = 4.0 / 3
)

func (s *wallSheet) begin() {
	stacks, err := s.stacks()
	if err != nil {
		s.bench.complain(err)
		return
	}
	size := s.bench.win.Canvas().Size()
	wide := int(max(300, (size.Width-drawerWidth)*s.bench.win.Canvas().Scale()))
	if n := len(stacks); n > 0 {
		wide = max(300, wide/n)
	} else {
		wide = min(wide, int(max(300, size.Height*wallShare*wallAspect*s.bench.win.Canvas().Scale())))
	}
	wall, high := s.wall, int(float64(wide)/wallAspect)
	workOut(s.cards, func(ctx context.Context) (*image.RGBA, error) {
		if len(stacks) > 0 {
			return s.bench.s.ColourSets(ctx, wall, stacks, wide, high, nil)
		}
		return s.bench.s.WallView(ctx, wall, wide, high, func(float64) {})
	}, s.show)
}

func (s *wallSheet) show(img *image.RGBA) {
	d := s.bench.s.Document()
	s.set(1, nil, func(card *widgets.Card, _ int) {
		card.Set(img, lang.X("wall.panel", "{{.Size}}, {{.Where}}", map[string]any{
			"Size": d.UnitOf().FormatSize(d.Panel.Size), "Where": s.where(),
		}), s.trust(d))
	})
}

// where names the wall.
func (s *wallSheet) where() string {
	if s.wall.Photo != nil {
		return s.wall.Photo.Name
	}
	return roomName(s.wall.Room)
}

// trust says how far the colours go. Colour sets carry such words themselves.
func (s *wallSheet) trust(d job.Document) string {
	if len(s.sets) > 0 {
		return ""
	}
	return widgets.Sentence(caution(session.ProofView, d.Stack.Curve.Calibrated))
}

func roomName(k scene.Kind) string {
	switch k {
	case scene.Living:
		return lang.X("room.living", "living room")
	case scene.Hallway:
		return lang.X("room.hallway", "hallway")
	case scene.Studio:
		return lang.X("room.studio", "studio")
	}
	return strings.ToLower(string(k))
}
