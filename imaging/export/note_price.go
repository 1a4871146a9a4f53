package export

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	"undercoat/imaging/strict"
)

// The kind and version of files of rates.
const (
	RatesKind    = "undercoat-rates"
	RatesVersion = 1
)

// Rates are what a maker charges, all in one currency.
type Rates struct {
	Kind        string  `json:"kind"`
	Version     int     `json:"version"`
	Currency    string  `json:"currency"` // as it is written behind a sum
	Panel       float64 `json:"panel"`    // the blank panel
	Can         float64 `json:"can"`      // of paint, by what is used of it
	Other       float64 `json:"other"`    // clear coat, packing and the like
	MachineHour float64 `json:"machine_hour"`
	HandHour    float64 `json:"hand_hour"`
	// HandHours is the handwork that is charged; 0 takes it from the timetable.
	HandHours float64 `json:"hand_hours,omitempty"`
	// SurchargePercent is laid over the whole, for design, risk or tax.
	SurchargePercent float64 `json:"surcharge_percent,omitempty"`
}

// maxRate bounds every rate: more is a slip.
const maxRate = 1e6

// ReadRates reads a file of rates strictly.
func ReadRates(data []byte) (Rates, error) {
	var r Rates
	if err := strict.Decode(data, &r); err != nil {
		return Rates{}, fmt.Errorf("rates: %w", err)
	}
	if r.Kind != RatesKind || r.Version != RatesVersion {
		return Rates{}, fmt.Errorf("rates: kind is %q and version %d: write %q and %d", r.Kind, r.Version, RatesKind, RatesVersion)
	}
	return r, r.Validate()
}

// Validate names the first rate that is out of range.
func (r Rates) Validate() error {
	if strings.TrimSpace(r.Currency) == "" || len(r.Currency) > 12 || strings.ContainsFunc(r.Currency, unicode.IsControl) {
		return fmt.Errorf("rates: currency %q is not possible: write how sums are marked, for instance EUR", r.Currency)
	}
	for _, v := range []struct {
		name  string
		value float64
		most  float64
	}{
		{"panel", r.Panel, maxRate}, {"can", r.Can, maxRate}, {"other", r.Other, maxRate},
		{"machine_hour", r.MachineHour, maxRate}, {"hand_hour", r.HandHour, maxRate},
		{"hand_hours", r.HandHours, 10_000}, {"surcharge_percent", r.SurchargePercent, 1000},
	} {
		if !(v.value >= 0 && v.value <= v.most) {
			return &RateError{Rate: v.name, Value: v.value, Most: v.most}
		}
	}
	return nil
}

// RateError is a rate that is out of range. Rate is its name in a file of rates.
type RateError struct {
	Rate        string
	Value, Most float64
}

func (e *RateError) Error() string {
	return fmt.Sprintf("rates: %s is %g: give 0 to %g, 0 for what is not charged", e.Rate, e.Value, e.Most)
}

// Work is what a panel takes of everything that is charged.
type Work struct {
	Cans         float64
	MachineHours float64
	HandHours    float64
}

// NotePrice is a price and how it comes about.
type NotePrice struct {
	Currency string      `json:"currency"`
	Lines    []PriceLine `json:"lines"`
	Total    float64     `json:"total"`
}

// PriceLine is one part of a price. Sums are to the hundredth.
type PriceLine struct {
	What     string  `json:"what"`
	Quantity float64 `json:"quantity"`
	Unit     string  `json:"unit,omitempty"`
	Rate     float64 `json:"rate"`
	Amount   float64 `json:"amount"`
}

// Price works out a price. Parts that cost nothing are left out; amounts are
// rounded to the hundredth first and then added, so that the sheet adds up.
func (r Rates) Price(w Work) (*NotePrice, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	if r.HandHours > 0 {
		w.HandHours = r.HandHours
	}
	p := &NotePrice{Currency: r.Currency}
	add := func(what string, quantity float64, unit string, rate float64) {
		line := PriceLine{what, roundTo(quantity, 2), unit, rate, roundTo(roundTo(quantity, 2)*rate, 2)}
		if line.Amount > 0 {
			p.Lines = append(p.Lines, line)
			p.Total = roundTo(p.Total+line.Amount, 2)
		}
	}
	add("panel", 1, "", r.Panel)
	add("paint", w.Cans, "cans", r.Can)
	add("clear coat, packing and the like", 1, "", r.Other)
	add("machine", w.MachineHours, "hours", r.MachineHour)
	add("handwork", w.HandHours, "hours", r.HandHour)
	if part := roundTo(p.Total*r.SurchargePercent/100, 2); part > 0 {
		p.Lines = append(p.Lines, PriceLine{What: "surcharge", Quantity: r.SurchargePercent, Unit: "%", Rate: p.Total, Amount: part})
		p.Total = roundTo(p.Total+part, 2)
	}
	if len(p.Lines) == 0 {
		return nil, errors.New("rates: every rate is 0: give at least one, or leave the rates out for a sheet without a price")
	}
	return p, nil
}

func roundTo(v float64, places int) float64 {
	f := math.Pow10(places)
	return math.Round(v*f) / f
}
