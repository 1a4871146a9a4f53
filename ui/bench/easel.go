package bench

import (
	"image"
	"slices"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// The marks by which the moves of one drag become one step.
const (
	borderDrag = "border drag"
	cropDrag   = "crop drag"
	cropZoom   = "crop zoom"
	sliderDrag = "slider drag"
	curveDrag  = "curve drag"
	lineDrag   = "lettering drag"
)

func (b *Bench) newEasel() *widgets.Easel {
	e := widgets.NewEasel()
	e.OnBorderChanged = func(border layout.Border) {
		b.edit(stepBorder(), borderDrag, func(d *job.Document) error {
			d.Border = border
			return nil
		})
	}
	e.OnBorderChangeEnded = func(layout.Border) { b.s.EndDrag() }
	e.OnCropMoved = func(dx, dy layout.MM) { b.edit(stepCrop(), cropDrag, b.moveCrop(dx, dy)) }
	e.OnCropMoveEnded = b.s.EndDrag
	e.OnCropZoomEnded = b.s.EndDrag
	e.OnCropZoomed = func(factor float64, at layout.Point) { b.edit(stepCrop(), cropZoom, b.zoomCrop(factor, at)) }
	e.OnLevelDrawn = b.levelDrawn
	e.OnLevelDropped = b.endLevel
	e.OnLinePicked = func(nth int) { b.letters.pick(nth) }
	e.OnLineMoved = func(nth int, dx, dy layout.MM) { b.letters.lineMoved(nth, dx, dy) }
	e.OnLineMoveEnded = b.s.EndDrag
	e.OnHover = func(p layout.Point, inside bool) {
		b.status.point(p, inside)
		b.cores.point(p, inside)
	}
	e.OnPointed = func(p layout.Point) { b.cores.pinTo(p) }
	e.OnViewChanged = func(v widgets.EaselView) {
		b.visible = v
		b.requestPictures()
	}
	return e
}

// moveCrop moves the picture on the panel, so the crop the other way over it.
func (b *Bench) moveCrop(dx, dy layout.MM) func(*job.Document) error {
	return func(d *job.Document) error {
		area, err := d.Panel.PictureArea(d.Border)
		if err != nil {
			return err
		}
		perMM := d.Picture.Crop.W / float64(area.Size.W)
		w, h := b.s.PictureSize()
		d.Picture.Crop = d.Picture.Crop.MovedBy(-float64(dx)*perMM, float64(dy)*perMM, w, h)
		return nil
	}
}

// zoomCrop makes the picture larger on the panel about a point of the panel.
func (b *Bench) zoomCrop(factor float64, at layout.Point) func(*job.Document) error {
	return func(d *job.Document) error {
		area, err := d.Panel.PictureArea(d.Border)
		if err != nil {
			return err
		}
		c := d.Picture.Crop
		left, top := area.Centre.X-area.Size.W/2, area.Centre.Y+area.Size.H/2
		x := c.X + float64((at.X-left)/area.Size.W)*c.W
		y := c.Y + float64((top-at.Y)/area.Size.H)*c.H
		w, h := b.s.PictureSize()
		d.Picture.Crop = c.Zoomed(factor, x, y, w, h)
		return nil
	}
}

func (b *Bench) refreshEasel(d job.Document, p job.Plan) {
	b.easel.SetUnit(d.UnitOf())
	b.easel.SetPitch(d.Setting.Pitch)
	b.easel.SetPanel(d.Panel, d.Stack.Coats[0].Colour)
	b.easel.SetBorder(d.Border)
	b.easel.SetCaution(caution(b.view, p.Calibrated))
	b.requestPictures()
}

// requestPictures asks the session for what the easel can show: the whole
// picture area and, when only a part of it is in sight, that part sharper.
func (b *Bench) requestPictures() {
	pl, err := b.s.Document().Placement()
	if err != nil || b.visible.W <= 0 || b.visible.H <= 0 {
		return
	}
	raster := layout.Area{Centre: pl.Centre, Size: pl.Grid.Size()}
	scale := b.visible.PixelsPerMM
	whole := session.Frame{
		View: b.view,
		Part: session.Whole,
		W:    pixels(raster.Size.W, scale, b.visible.W),
		H:    pixels(raster.Size.H, scale, b.visible.H),
	}
	part, some, all := visiblePart(raster, b.visible.Area)
	if all || !some {
		b.detail = nil
		b.showFrames(whole)
		return
	}
	if b.detail == nil {
		b.detail = &session.Picture{}
	}
	b.showFrames(session.Frame{
		View: b.view,
		Part: part,
		W:    pixels(raster.Size.W*layout.MM(part.W), scale, b.visible.W),
		H:    pixels(raster.Size.H*layout.MM(part.H), scale, b.visible.H),
	}, whole)
}

// showFrames asks for frames of the job and for the same of what it is compared with.
func (b *Bench) showFrames(frames ...session.Frame) {
	b.s.Show(append(frames, b.split.frames(frames)...)...)
}

// pixels is a length on the screen, at most limit.
func pixels(l layout.MM, perMM float64, limit int) int {
	return max(1, min(limit, int(float64(l)*perMM+0.5)))
}

// visiblePart is the share of the raster that can be seen.
func visiblePart(raster, seen layout.Area) (part session.Part, some, all bool) {
	left, right := overlap(raster.Centre.X, raster.Size.W, seen.Centre.X, seen.Size.W)
	low, high := overlap(raster.Centre.Y, raster.Size.H, seen.Centre.Y, seen.Size.H)
	part = session.Part{X: left, Y: 1 - high, W: right - left, H: high - low}
	return part, part.W > 0 && part.H > 0, left == 0 && right == 1 && low == 0 && high == 1
}

// overlap is what the stretch of width b about bc covers of the stretch of width
// a about ac, in shares of a from its start.
func overlap(ac, a, bc, b layout.MM) (from, to float64) {
	start := ac - a/2
	from = float64((bc - b/2 - start) / a)
	to = float64((bc + b/2 - start) / a)
	return min(1, max(0, from)), min(1, max(0, to))
}

// place is where on the easel a picture belongs.
type place struct {
	part  session.Part
	other bool // beyond the split line
}

func placeOf(f session.Frame) place { return place{f.Part, f.Other} }

// rendered takes a picture from the worker and shows it on the main goroutine.
// When pictures come faster than they can be shown, the newest of each part wins.
func (b *Bench) rendered(p session.Picture) {
	b.mu.Lock()
	waiting := len(b.arrived) > 0
	at := placeOf(p.Frame)
	if at.part != session.Whole {
		for waiting := range b.arrived {
			if waiting.part != session.Whole && waiting.other == at.other {
				delete(b.arrived, waiting)
			}
		}
	}
	b.arrived[at] = p
	b.mu.Unlock()
	if !waiting {
		b.do(b.showArrived)
	}
}

func (b *Bench) showArrived() {
	b.mu.Lock()
	arrived := b.arrived
	b.arrived = map[place]session.Picture{}
	b.mu.Unlock()
	pl, err := b.s.Document().Placement()
	if err != nil {
		return
	}
	raster := layout.Area{Centre: pl.Centre, Size: pl.Grid.Size()}
	last := false
	for _, p := range arrived {
		if p.Last {
			last = true
			defer func() {
				b.settledAt = p.Generation
				b.tellSettled()
			}()
		}
	}
	b.status.working(!last, b.view)
	for at, p := range arrived {
		if at.other && at.part == session.Whole { // it drops the detail laid over it
			b.split.show(p)
			delete(arrived, at)
		}
	}
	for at, p := range arrived {
		if at.other {
			b.split.show(p)
			delete(arrived, at)
		}
	}
	if p, ok := arrived[place{part: session.Whole}]; ok {
		b.showPicture(p, raster, b.easel.SetImage)
		// The easel drops the detail with the picture it belonged to; until the
		// next one comes the last is better than none.
		if b.detail != nil {
			b.easel.SetDetail(b.detail.Image, b.detail.Frame.Part.Of(raster))
		}
		delete(arrived, place{part: session.Whole})
	}
	for _, p := range arrived {
		if b.detail != nil {
			b.detail = &p
			b.showPicture(p, raster, b.easel.SetDetail)
		}
	}
}

func (b *Bench) showPicture(p session.Picture, raster layout.Area, set func(*image.RGBA, layout.Area)) {
	if p.Err != nil {
		b.complain(p.Err)
		return
	}
	set(p.Image, p.Frame.Part.Of(raster))
}

// Settle arranges something on the main goroutine and closes the channel it gives
// once the window shows the last picture of what came of it and all that was learned
// about it.
func (b *Bench) Settle(arrange func()) <-chan struct{} {
	settled := make(chan struct{})
	b.do(func() {
		arrange()
		b.awaited = append(b.awaited, awaited{b.s.Generation(), settled})
		b.tellSettled()
	})
	return settled
}

// awaited is someone who waits for the last picture of a generation.
type awaited struct {
	generation uint64
	settled    chan struct{}
}

func (b *Bench) tellSettled() {
	done := min(b.settledAt, b.found.Generation)
	b.awaited = slices.DeleteFunc(b.awaited, func(a awaited) bool {
		if a.generation > done {
			return false
		}
		close(a.settled)
		return true
	})
}
