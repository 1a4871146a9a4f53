package bench

import (
	"context"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/proof"
	"undercoat/ui/widgets"
)

// coatMaps shows for each coat where on the picture it is seen, and on how much.
type coatMaps struct{ *cards }

func newCoatMaps(b *Bench) *coatMaps {
	return &coatMaps{cards: newCards(b, lang.X("maps.title", "Coat maps"),
		lang.X("maps.what", "Where on the picture each coat shows, from the top coat to the ground; the rest is left plain."))}
}

func (m *coatMaps) begin() {
	long := m.cardLong()
	workOut(m.cards, func(ctx context.Context) ([]proof.CoatMap, error) { return m.bench.s.CoatMaps(ctx, long) }, m.show)
}

func (m *coatMaps) show(maps []proof.CoatMap) {
	d := m.bench.s.Document()
	shares := make([]float64, len(maps))
	for i, c := range maps {
		shares[i] = c.Share
	}
	parts := partsOf(d, shares)
	m.set(len(maps), nil, func(card *widgets.Card, i int) {
		where := lang.X("maps.coat", "coat {{.N}} from the top", map[string]any{"N": i + 1})
		switch {
		case i == 0:
			where = lang.X("maps.top", "top coat")
		case i == len(d.Stack.Coats):
			where = lang.X("maps.ground", "ground")
		}
		card.Set(maps[i].Image, maps[i].Name, where, parts[i])
	})
}
