package widgets

import (
	"math"

	"fyne.io/fyne/v2"

	"undercoat/layout"
)

const (
	rulerLeft = 44 // pixels, wide enough for a sign and five figures
	rulerTop  = 18

	wheelRate = 0.0075 // ln of the zoom to a pixel of the wheel
	jitter    = 4      // pixels that the pointer may stray while the wheel turns
	keyZoom   = 1.25

	defaultPitch layout.MM = 0.1 // until a pitch is known
)

// Fit shows the whole panel, and keeps showing it when the easel is resized.
func (e *Easel) Fit() {
	e.whole = true
	e.show(e.settled(e.view))
}

// ZoomBy magnifies by a factor about the middle.
func (e *Easel) ZoomBy(factor float64) {
	e.zoom(factor, fyne.NewPos(e.view.size.Width/2, e.view.size.Height/2))
}

// ZoomToDots shows a dot of the raster to a pixel of the device.
func (e *Easel) ZoomToDots() {
	if e.view.scale > 0 {
		perDot := e.view.scale * float64(e.dot()) * float64(deviceScale(e))
		e.ZoomBy(1 / perDot)
	}
}

// ZoomTo shows a millimetre of the panel on so many pixels of the device, as far as
// the easel goes.
func (e *Easel) ZoomTo(pixelsPerMM float64) {
	if e.view.scale > 0 && pixelsPerMM > 0 {
		e.ZoomBy(pixelsPerMM / (e.view.scale * float64(deviceScale(e))))
	}
}

func (e *Easel) dot() layout.MM {
	if e.pitch > 0 {
		return e.pitch
	}
	return defaultPitch
}

// zoom magnifies by a factor; what is at pos in the viewport stays there.
func (e *Easel) zoom(factor float64, pos fyne.Position) {
	least, most := e.zoomLimits()
	e.whole = false
	e.show(e.view.zoomed(factor, pos, least, most).kept(e.panel.Size))
}

func (e *Easel) zoomLimits() (least, most float64) {
	fit := fitted(e.view.size, e.panel.Size).scale
	return fit / 2, max(fit, closestDot/float64(e.dot()))
}

func (e *Easel) pan(dx, dy float32) {
	e.whole = false
	e.show(e.view.panned(dx, dy, e.panel.Size))
}

// settled is a view made to agree with the panel, the pitch and the easel's size.
func (e *Easel) settled(v viewport) viewport {
	v.size = fyne.NewSize(max(0, e.Size().Width-rulerLeft), max(0, e.Size().Height-rulerTop))
	fit := fitted(v.size, e.panel.Size)
	if e.whole || v.scale == 0 {
		return fit
	}
	v.scale = min(max(v.scale, fit.scale/2), max(fit.scale, closestDot/float64(e.dot())))
	return v
}

// show draws a view; drawing tells the owner if it differs from the last.
func (e *Easel) show(v viewport) {
	e.view = v
	e.Refresh()
}

func (e *Easel) tellView() {
	var now EaselView
	if area, ok := e.view.visible(e.panel.Size); ok {
		perMM := e.view.scale * float64(deviceScale(e))
		now = EaselView{
			Area: area, PixelsPerMM: perMM,
			W: max(1, int(math.Round(float64(area.Size.W)*perMM))),
			H: max(1, int(math.Round(float64(area.Size.H)*perMM))),
		}
	}
	if now == e.told {
		return
	}
	e.told = now
	if e.OnViewChanged != nil {
		e.OnViewChanged(now)
	}
}
