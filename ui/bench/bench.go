package bench

import (
	"context"
	"slices"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/picture"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// Options is how a bench is set up.
type Options struct {
	// Do runs a function on the toolkit's main goroutine, in order; nil: fyne.Do.
	Do func(func())
	// Quit ends the program; nil: the toolkit's own way.
	Quit func()
	// Journal begins the journal that keeps unsaved changes of the job at a path
	// against a crash; nil: they are not kept. See JobJournal.
	Journal func(path string) (session.Journal, error)
	// Desk opens what keeps the charts being read from one start to the next; nil:
	// they are forgotten. See session.OpenDesk.
	Desk func(failed func(error)) (*session.Desk, error)
	// Version says which build of the program this is.
	Version string
}

// Bench is the window's content and what it is wired to.
type Bench struct {
	win  fyne.Window
	do   func(func())
	quit func()
	s    *session.Session

	version string

	easel    *widgets.Easel
	notice   *widgets.Notice
	status   *status
	toolbar  *toolbar
	ribbon   *ribbon
	cores    *cores
	split    *split
	strip    *powerStrip
	maps     *coatMaps
	wall     *wallSheet
	guide    *guide
	sheet    sheet // in the easel's place; nil: the easel
	drawers  []drawer
	column   *widgets.Column
	letters  *letteringDrawer
	swatches *swatchesDrawer
	shelf    shelf
	handOff  *handOffDrawer
	asking   []question // those on show, the topmost last
	folder   string     // where a file was last opened or written, for the next question

	keeper     *session.Keeper // nil: nothing is kept
	remembered string          // the job's file that was put among the recent ones last

	view    session.View
	visible widgets.EaselView
	detail  *session.Picture // the sharper part on show; nil: none
	awaited []awaited

	settledAt uint64        // the generation of the last picture that the easel has shown the last of; 0: none
	found     session.Found // what the worker learned last

	// What runs beside the window ends with ctx and is waited for by Close.
	ctx        context.Context
	stop       context.CancelFunc
	background sync.WaitGroup
	stopLoad   context.CancelFunc // ends the reading of a file

	mu      sync.Mutex
	arrived map[place]session.Picture // newest of each frame, not yet shown
	learned *session.Found            // the newest, not yet shown; nil: shown
}

// drawer is one part of the job at the left.
type drawer interface {
	widget() *widgets.Drawer
	// refresh shows the document and the plan that follows from it.
	refresh(d job.Document, p job.Plan)
}

// New fills win with a bench for a job whose picture is decoded already.
func New(win fyne.Window, j *job.Job, pic *picture.Picture, o Options) *Bench {
	if o.Do == nil {
		o.Do = fyne.Do
	}
	if o.Quit == nil {
		o.Quit = fyne.CurrentApp().Quit
	}
	b := &Bench{win: win, do: o.Do, quit: o.Quit, version: o.Version, view: session.ProofView, arrived: map[place]session.Picture{}, stopLoad: func() {}}
	b.ctx, b.stop = context.WithCancel(context.Background())
	b.s = session.New(j, pic, session.Options{Render: b.rendered, Found: b.foundOut, Depths: b.depthsOut, Cores: b.coresOut})
	b.s.Subscribe(func() { b.do(b.refresh) })

	b.shelf = readShelf(library.Open())
	b.easel = b.newEasel()
	b.ribbon = newRibbon(b)
	b.cores = newCores(b)
	b.split = newSplit(b)
	b.strip = newPowerStrip(b)
	b.maps = newCoatMaps(b)
	b.wall = newWallSheet(b)
	b.guide = newGuide()
	b.notice = widgets.NewNotice()
	b.notice.OnSaid = func() { win.Content().Refresh() }
	b.status = newStatus(b.tellCautions)
	b.toolbar = newToolbar(b)
	b.swatches = newSwatchesDrawer(b)
	b.letters = newLetteringDrawer(b)
	b.handOff = newHandOffDrawer(b)
	b.drawers = []drawer{newPanelDrawer(b), newCoatsDrawer(b), b.swatches, newPictureDrawer(b), b.letters, newBurnDrawer(b), b.handOff}

	b.drawers[0].widget().SetOpen(true)
	b.column = widgets.NewColumn(drawerWidth, b.Drawers()...)
	top := container.NewVBox(b.toolbar.object, b.notice, b.split.bar)
	foot := container.NewVBox(widget.NewSeparator(), b.ribbon.object, b.status.object)
	middle := container.NewStack(b.easel, b.strip.object(), b.maps.object(), b.wall.object(), b.guide.object())
	win.SetContent(container.NewBorder(top, foot, b.column, b.cores.object, middle))
	win.SetMainMenu(b.menu())
	win.SetOnDropped(b.dropped)
	win.SetCloseIntercept(b.Quit)
	win.Canvas().SetOnTypedKey(b.typed)
	b.forwardKeys()
	b.keep(o.Journal)
	b.swatches.takeDesk(o.Desk)
	b.refresh()
	return b
}

// drawerWidth is the width of the column of drawers.
const drawerWidth = 340

// Session is the open job.
func (b *Bench) Session() *session.Session { return b.s }

// Easel is the widget that shows the panel.
func (b *Bench) Easel() *widgets.Easel { return b.easel }

// Drawers are the parts of the job at the left, from the top down.
func (b *Bench) Drawers() []*widgets.Drawer {
	out := make([]*widgets.Drawer, len(b.drawers))
	for i, d := range b.drawers {
		out[i] = d.widget()
	}
	return out
}

// Reveal scrolls the drawers so that something in one of them can be seen.
func (b *Bench) Reveal(o fyne.CanvasObject) { b.column.Reveal(o) }

// Close stops the background work. It must not be called from the main goroutine
// while the toolkit still runs.
func (b *Bench) Close() {
	b.stop()
	b.background.Wait()
	if b.keeper != nil {
		_ = b.keeper.Close() // what is left is offered at the next start
	}
	if b.swatches.desk != nil {
		_ = b.swatches.desk.Close() // what it could not give back is stale by the next start
		b.swatches.desk = nil
	}
	b.s.Close()
}

// Refresh shows what changed in the session without a step of the job.
func (b *Bench) Refresh() { b.handOff.changed() }

// refresh shows the session's document in every part of the window.
func (b *Bench) refresh() {
	d := b.s.Document()
	p, err := b.plan()
	if err != nil {
		b.complain(err)
		return
	}
	for _, dr := range b.drawers {
		dr.refresh(d, p)
	}
	b.toolbar.refresh()
	b.status.refresh(d, p)
	b.ribbon.refresh(d, p)
	b.cores.refresh(d)
	b.refreshEasel(d, p)
	if b.sheet != nil {
		b.sheet.begin()
	}
	b.fitColumn()
	b.win.SetTitle(b.title(d))
	b.remember()
}

// plan is what follows from the job as it is.
func (b *Bench) plan() (job.Plan, error) {
	p, err := b.s.Plan()
	if err == nil {
		p.Cautions = append(slices.Clone(p.Cautions), b.found.LetterCautions...)
	}
	return p, err
}

// fitColumn makes room for what became taller in a drawer.
func (b *Bench) fitColumn() {
	if b.column != nil {
		b.column.Fit()
	}
}

func (b *Bench) title(d job.Document) string {
	name := d.Name
	if path := b.s.Path(); path != "" {
		name = job.NameOf(path)
	}
	if b.s.Dirty() {
		name += " *"
	}
	return name + " - Undercoat"
}

// edit changes the document as one step. When it is refused, the notice bar says
// why and the result is false.
func (b *Bench) edit(name, merge string, change func(*job.Document) error) bool {
	if err := b.s.Edit(name, merge, change); err != nil {
		b.complain(err)
		return false
	}
	b.notice.Hide()
	return true
}

// complain shows an error in the notice bar, with its next step.
func (b *Bench) complain(err error) { b.notice.TellError(err) }

// showSheet puts a view of the whole job in the easel's place.
func (b *Bench) showSheet(s sheet) {
	if b.sheet == s {
		return
	}
	b.split.end()
	b.leaveSheet()
	b.sheet = s
	b.easel.Hide()
	b.cores.object.Hide()
	s.object().Show()
	s.begin()
	b.toolbar.refresh()
}

func (b *Bench) leaveSheet() {
	if b.sheet == nil {
		return
	}
	b.sheet.leave()
	b.sheet.object().Hide()
	b.sheet = nil
	b.easel.Show()
	b.cores.object.Show()
}

// ShowStrip shows the power strip.
func (b *Bench) ShowStrip() { b.showSheet(b.strip) }

// ShowMaps shows the coat maps.
func (b *Bench) ShowMaps() { b.showSheet(b.maps) }

// Compare begins to compare the job with another, or ends it.
func (b *Bench) Compare() { b.split.toggle() }

// Show puts a view on the easel.
func (b *Bench) Show(v session.View) {
	b.leaveSheet()
	b.view = v
	if b.easel.Mode() == widgets.Level {
		b.endLevel()
	}
	b.easel.SetMode(easelMode(v))
	b.easel.SetCaution(caution(v, b.s.Document().Stack.Curve.Calibrated))
	b.toolbar.refresh()
	b.requestPictures()
}

// caution is what stands over a view: a proof of a stack whose curve was never
// fitted is a guess.
func caution(v session.View, calibrated bool) string {
	if v == session.ProofView && !calibrated {
		return lang.X("proof.uncalibrated", "uncalibrated, colours and depth are a guess")
	}
	return ""
}

// easelMode lets the hand arrange on the picture and the proof; single dots are
// there to be looked at.
func easelMode(v session.View) widgets.EaselMode {
	if v == session.DotsView {
		return widgets.Inspect
	}
	return widgets.Arrange
}

func viewName(v session.View) string {
	switch v {
	case session.PictureView:
		return lang.X("view.picture", "Picture")
	case session.DotsView:
		return lang.X("view.dots", "Dots")
	}
	return lang.X("view.proof", "Proof")
}
