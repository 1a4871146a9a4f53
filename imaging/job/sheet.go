package job

import (
	"context"
	"image"
	"io"
	"math"

	"undercoat/imaging/export"
	"undercoat/imaging/scene"
	"undercoat/imaging/sheet"
)

// proofLong is the long side of the hand-off's proof in pixels.
const proofLong = 1800

// addProof makes the proof where anything shows it, and writes it where it is asked for.
func (m *making) addProof(ctx context.Context, set *export.Set) error {
	if !m.r.wants(ProofOutput) && !m.r.wants(SheetOutput) && !m.r.wants(ClientOutput) {
		return nil
	}
	var err error
	m.proof, err = m.d.PanelProof(ctx, m.recipe(), m.raster, m.plan.Placement, proofLong, func(f float64) { m.r.Progress(0.6 + 0.3*f) })
	if err != nil || !m.r.wants(ProofOutput) {
		return err
	}
	return addMarked(ctx, set, m.d, m.proof)
}

// addMarked writes a proof of the whole panel with what must be said of it.
func addMarked(ctx context.Context, set *export.Set, d Document, img *image.RGBA) error {
	perMetre := float64(img.Bounds().Dx()) / float64(d.Panel.Size.W) * 1000
	img, err := d.Marked(img)
	if err != nil {
		return err
	}
	return set.Add(ProofFile, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(ctx, w), img, int(math.Round(perMetre)))
	})
}

// addPapers writes what people read: sheets, calendar and, last, the placement note,
// which lists the checksums of all files before it.
func (m *making) addPapers(ctx context.Context, set *export.Set, n *export.Note) error {
	table, err := m.r.Workshop.fillIn(n, m.d)
	if err != nil {
		return err
	}
	n.Files = set.Entries()
	options := sheet.Options{Proof: m.proof, Unit: m.d.UnitOf(), Letter: m.r.Workshop.Letter}
	if m.r.wants(SheetOutput) {
		if err := set.Add(SheetFile, func(w io.Writer) error {
			return sheet.Job(export.UntilDone(ctx, w), *n, options)
		}); err != nil {
			return err
		}
	}
	if m.r.wants(ClientOutput) {
		if err := m.addClient(ctx, set, *n, options); err != nil {
			return err
		}
	}
	if m.r.wants(CalendarOutput) {
		if err := set.Add(CalendarFile, func(w io.Writer) error {
			return export.WriteCalendar(export.UntilDone(ctx, w), m.d.Name, *table)
		}); err != nil {
			return err
		}
	}
	m.r.Progress(0.97)
	n.Files = set.Entries()
	if !m.r.wants(PlacementOutput) {
		return nil
	}
	return m.d.addNote(set, *n)
}

// addClient writes the sheet for the client, who sees the panel on a wall.
func (m *making) addClient(ctx context.Context, set *export.Set, n export.Note, o sheet.Options) error {
	view := WallView{Kind: scene.Living, Wall: UsualWall}
	if m.r.Wall != nil {
		view = *m.r.Wall
	}
	w, h := sheet.WallSize(o.Letter)
	var err error
	if o.Wall, err = m.d.OnWall(ctx, m.proof, view, w, h); err != nil {
		return err
	}
	if o.Proof, err = view.watermarked(ctx, o.Proof); err != nil {
		return err
	}
	return set.Add(ClientFile, func(w io.Writer) error {
		return sheet.Client(export.UntilDone(ctx, w), n, o)
	})
}
