package bench

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// pricePart is what the maker charges, and what the panel costs by that.
type pricePart struct {
	*shopForm
	from  *widget.Select // of the library
	named *widgets.Named
	lines []*widgets.Field
	keep  *widget.Button
	told  *widgets.Remarks
}

// usualCurrency is proposed where no rates are kept.
const usualCurrency = "EUR"

// keptRates is the name under which rates are kept in the library.
const keptRates = "rates"

func newPricePart(b *Bench, changed func()) *pricePart {
	p := &pricePart{shopForm: newShopForm(b, lang.X("price.title", "Price"), changed), told: widgets.NewRemarks(false)}
	p.tick(lang.X("price.price", "Price"), lang.X("price.client", "on a sheet for the client"),
		func(w session.Workshop) bool { return w.Rates != nil }, turnRates)
	p.from = widget.NewSelect(nil, p.take)
	p.from.PlaceHolder = lang.X("price.choose", "Choose rates")
	p.named = widgets.NewNamed(lang.X("price.library", "Library"), p.from)
	p.box.Add(p.named)
	line := func(name, unit string, of func(*export.Rates) *float64) {
		p.lines = append(p.lines, p.number(name, unit, func(w *session.Workshop) *float64 {
			if w.Rates == nil {
				return nil
			}
			return of(w.Rates)
		}))
	}
	p.lines = append(p.lines, p.field(lang.X("price.currency", "Currency"), "", currencyText, writeCurrency))
	line(lang.X("price.panel", "Blank panel"), "", func(r *export.Rates) *float64 { return &r.Panel })
	line(lang.X("price.can", "Can of paint"), "", func(r *export.Rates) *float64 { return &r.Can })
	line(lang.X("price.other", "Other things"), "", func(r *export.Rates) *float64 { return &r.Other })
	line(lang.X("price.machine", "Machine"), lang.X("price.hour", "/ h"), func(r *export.Rates) *float64 { return &r.MachineHour })
	line(lang.X("price.hand", "Handwork"), lang.X("price.hour", "/ h"), func(r *export.Rates) *float64 { return &r.HandHour })
	line(lang.X("price.hours", "Hours of it"), lang.X("price.h", "h"), func(r *export.Rates) *float64 { return &r.HandHours })
	line(lang.X("price.surcharge", "Surcharge"), "%", func(r *export.Rates) *float64 { return &r.SurchargePercent })
	p.keep = widget.NewButtonWithIcon(lang.X("price.keep", "Keep these rates"), theme.DocumentSaveIcon(), func() { p.keepRates(false) })
	alone := widget.NewButton(lang.X("price.alone", "Sheet for the client alone..."), func() { b.handOff.askClient() })
	p.box.Add(container.NewVBox(p.keep, p.told, alone))
	return p
}

// turnRates begins with what the library holds, or leaves the price out.
func turnRates(w *session.Workshop, on bool) {
	w.Rates = nil
	if !on {
		return
	}
	rates, err := job.FindRates(keptRates)
	if err != nil {
		rates = export.Rates{Kind: export.RatesKind, Version: export.RatesVersion, Currency: usualCurrency}
	}
	w.Rates = &rates
}

func currencyText(w session.Workshop, _ layout.Unit) string {
	if w.Rates == nil {
		return ""
	}
	return w.Rates.Currency
}

func writeCurrency(w *session.Workshop, text string) error {
	text = strings.TrimSpace(text)
	switch {
	case w.Rates == nil:
	case text == "" || len(text) > 12:
		return errors.New(lang.X("price.nocurrency", "write how sums are marked, in up to 12 letters, for instance EUR"))
	default:
		w.Rates.Currency = text
	}
	return nil
}

// take takes rates over from the library.
func (p *pricePart) take(name string) {
	if name == "" {
		return
	}
	rates, err := job.FindRates(name)
	if err == nil {
		err = p.set(func(w *session.Workshop) error { w.Rates = &rates; return nil })
	}
	if err != nil {
		p.bench.complain(err)
	}
	p.from.ClearSelected() // it can be taken again
}

// keepRates keeps the rates in the library, for the next panels.
func (p *pricePart) keepRates(replace bool) {
	b := p.bench
	rates := b.s.Workshop().Rates
	if rates == nil {
		return
	}
	data, err := json.MarshalIndent(rates, "", "  ")
	if err == nil {
		_, err = library.Open().Save(keptRates, append(data, '\n'), replace)
	}
	switch {
	case errors.Is(err, fs.ErrExist):
		b.notice.Tell(lang.X("price.exists", "There are rates in the library already."), lang.X("price.choice", "Replace them, or leave them as they are."))
		b.notice.SetAction(lang.X("price.replace", "Replace them"), func() {
			b.hush()
			p.keepRates(true)
		})
	case err != nil:
		b.complain(err)
	default:
		b.notice.Inform(lang.X("price.kept", "The rates are kept in the library."), lang.X("price.again", "They stand here again when a price is next asked for."))
		p.changed()
	}
}

// refresh shows what the session holds, and what a note, which may be nil, says of it.
func (p *pricePart) refresh(u layout.Unit, n *export.Note) {
	on := p.bench.s.Workshop().Rates != nil
	names := library.Open().Names(library.Rates)
	p.from.SetOptions(names)
	setVisible(p.named, on && len(names) > 0)
	setVisible(p.keep, on)
	for _, l := range p.lines {
		setVisible(l, on)
	}
	p.show(u)
	p.told.Set(p.words(on, n)...)
	p.box.Refresh()
}

func (p *pricePart) words(on bool, n *export.Note) []widgets.Remark {
	p.section.SetSummary("")
	switch rates := p.bench.s.Workshop().Rates; {
	case !on:
		return []widgets.Remark{said(lang.X("price.none", "The sheet for the client shows the panel, its paints and, where it is asked for, what it costs."))}
	case !charges(rates):
		return []widgets.Remark{warned(lang.X("price.zero", "nothing is charged yet: give at least one rate, or leave the price out"))}
	case n == nil || n.Price == nil:
		return nil
	}
	price := n.Price
	total := fmt.Sprintf("%.2f %s", price.Total, price.Currency)
	p.section.SetSummary(total)
	out := []widgets.Remark{said(lang.X("price.total", "In all {{.Total}}.", map[string]any{"Total": total}))}
	for _, l := range price.Lines {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: priceLine(l)})
	}
	return out
}

// priceLine is a line of the price and how it comes about.
func priceLine(l export.PriceLine) string {
	what := capital(l.What)
	if sum := l.Sum(); sum != "" {
		what += ", " + sum
	}
	return fmt.Sprintf("%s: %.2f", what, l.Amount)
}

// capital begins a line of a list.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// charges tells whether rates come to any price.
func charges(r *export.Rates) bool {
	_, err := r.Price(export.Work{Cans: 1, MachineHours: 1, HandHours: 1})
	return err == nil
}
