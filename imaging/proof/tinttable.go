package proof

import (
	"context"
	"math"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// TintTable is the mean predicted look of 256 even tints under one recipe. It
// never changes and may be used by any number of goroutines at once.
type TintTable struct {
	recipe Recipe
	model  *coat.Model
	fast   *coat.LookTable
	tiles  *tiles
	nodes  [nodes]colour.Linear // looks at the nodes' doses
	looks  [tints]colour.Linear
	shares [][]float64 // of coats and ground, one row a tint
	stored [storedSteps + 1]uint32
}

// storedSteps is how finely the look is kept for painting; between two steps
// a stored value moves by less than one code.
const (
	storedShift = 4
	storedSteps = 1 << (16 - storedShift)
)

// NewTintTable screens and exposes a tile of each tint and shows it through.
func NewTintTable(ctx context.Context, r Recipe) (*TintTable, error) {
	return (&TintTable{}).With(ctx, r)
}

// With is the table for another recipe. As long as screen, beam, pitch and grid
// stay, the tiles are kept and only the looks are worked out again, which takes
// about a millisecond: a change of power, speed, passes, paint or finish.
func (t *TintTable) With(ctx context.Context, r Recipe) (*TintTable, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	model, err := r.Stack.Compile(r.Options)
	if err != nil {
		return nil, err
	}
	n := &TintTable{recipe: r, model: model, fast: t.fast, tiles: t.tiles}
	if n.fast == nil || r.Options != t.recipe.Options || !r.Stack.Equal(t.recipe.Stack) {
		n.fast = model.Table()
	}
	if n.tiles == nil || n.tiles.key != r.tilesKey() {
		if n.tiles, err = newTiles(ctx, r); err != nil {
			return nil, err
		}
	}
	n.weigh()
	n.store()
	return n, ctx.Err()
}

// weigh works out the mean look and shares of each tint at the recipe's power.
func (t *TintTable) weigh() {
	full := float32(t.recipe.FullDose())
	layers := t.fast.Layers()
	at := make([]float32, nodes*layers)
	for i := range nodes {
		dose := full * nodeDose(i)
		r, g, b := t.fast.At(dose)
		t.nodes[i] = colour.Linear{R: float64(r), G: float64(g), B: float64(b)}
		t.fast.CoverageAt(dose, at[i*layers:(i+1)*layers])
	}
	t.shares = make([][]float64, tints)
	all := make([]float64, tints*layers)
	for i := range tints {
		first := t.tiles.first[i]
		var look colour.Linear
		shares := all[i*layers : (i+1)*layers : (i+1)*layers]
		for j, w := range t.tiles.share[i] {
			if w == 0 {
				continue
			}
			look = look.Add(t.nodes[first+j].Scale(float64(w)))
			for l, v := range at[(first+j)*layers : (first+j+1)*layers] {
				shares[l] += float64(w * v)
			}
		}
		t.looks[i], t.shares[i] = look, shares
	}
}

// store fills the table of stored colours that Paint reads.
func (t *TintTable) store() {
	for i := range t.stored {
		t.stored[i] = rgba(t.Look(uint16(min(i<<storedShift, math.MaxUint16))))
	}
}

// rgba packs a look as the four bytes of an opaque pixel.
func rgba(l colour.Linear) uint32 {
	return pack(float32(l.R), float32(l.G), float32(l.B))
}

func pack(r, g, b float32) uint32 {
	return uint32(code(r)) | uint32(code(g))<<8 | uint32(code(b))<<16 | 0xff<<24
}

// code takes linear light, cut to 0..1, to the stored value.
func code(l float32) uint8 {
	v := int32(l*math.MaxUint16 + 0.5)
	if uint32(v) > math.MaxUint16 {
		v = min(math.MaxUint16, max(0, v))
	}
	return colour.EncodeByte16(uint16(v))
}

// Recipe is what the table was made for.
func (t *TintTable) Recipe() Recipe { return t.recipe }

// Model is the stack's model that the table was made with.
func (t *TintTable) Model() *coat.Model { return t.model }

// Look is the mean look of an even tint, 0..65535, in linear light; between
// two tints of the table it runs straight.
func (t *TintTable) Look(tint uint16) colour.Linear {
	i, f := between(tint)
	if f == 0 {
		return t.looks[i]
	}
	return colour.Mix(t.looks[i], t.looks[i+1], f)
}

// Coverage is the share of area on which each coat, from the top down, and then
// the ground shows in an even tint; it sums to 1.
func (t *TintTable) Coverage(tint uint16) []float64 {
	i, f := between(tint)
	shares := append([]float64(nil), t.shares[i]...)
	if f > 0 {
		for l, v := range t.shares[i+1] {
			shares[l] += f * (v - shares[l])
		}
	}
	return shares
}

// between finds the tint of the table below and the way to the next.
func between(tint uint16) (i int, f float64) {
	i = int(tint) / 257
	return i, float64(int(tint)-257*i) / 257
}
