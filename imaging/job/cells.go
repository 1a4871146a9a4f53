package job

import (
	"context"
	"math"
	"sync"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// beam is all that a table of cells depends on. The break-through of the top coat is
// a share of the full dose, in whole steps of a hundredth, so that a small change of
// power keeps the table and with it the dots.
type beam struct {
	along, across, pitch layout.MM
	breaks               int // ln(break-through dose / full dose) in hundredths
	spread               float64
}

// cells keeps the latest tables of cells: options of a screen are compared by the
// table's address.
var cells struct {
	sync.Mutex
	kept []keptCells
}

type keptCells struct {
	beam  beam
	table *screen.CellTable
}

const cellsKept = 16

// beamCells is what the dots of a stack burn together: how much of the top coat goes
// where the beam of neighbouring dots adds up.
func beamCells(m burn.Machine, pitch layout.MM, s coat.Stack, fullDose float64) (*screen.CellTable, error) {
	model, err := s.Compile(coat.Options{})
	if err != nil {
		return nil, err
	}
	b := beam{along: m.BeamAlong, across: m.BeamAcross, pitch: pitch, spread: s.Curve.Spread[0]}
	// Beyond these bounds nothing burns or everything does.
	b.breaks = int(math.Round(100 * min(3, max(-5, math.Log(model.BreakThrough(0)/fullDose)))))
	cells.Lock()
	defer cells.Unlock()
	for _, k := range cells.kept {
		if k.beam == b {
			return k.table, nil
		}
	}
	table, err := screen.BeamCells(context.Background(), m, pitch, b.burned)
	if err != nil {
		return nil, err
	}
	if len(cells.kept) == cellsKept {
		cells.kept = append([]keptCells(nil), cells.kept[1:]...)
	}
	cells.kept = append(cells.kept, keptCells{b, table})
	return table, nil
}

// leastSpread keeps the share of burned area from being a step, which would make
// tints of it that come and go with a hair of dose.
const leastSpread = 0.05

// burned is the share of an even area that has lost the top coat at a share of the
// full dose.
func (b beam) burned(dose float64) float64 {
	if dose <= 0 {
		return 0
	}
	z := (math.Log(dose) - float64(b.breaks)/100) / max(b.spread, leastSpread)
	return 0.5 * math.Erfc(-z/math.Sqrt2)
}
