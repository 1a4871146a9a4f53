package fit

import (
	"context"
	"encoding/json"
	"math"
	"strings"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// Result is what a chart has told.
type Result struct {
	// Stack is the one given, with curve, spreads, colours and scorch from the
	// chart, and marked as calibrated.
	Stack coat.Stack
	Coats []Coat // from the top down
	// Ground is how well the ground's own colour is known.
	Ground Paint
	// Swatches are those that were used, in rising order of dose.
	Swatches []Swatch
	// ResidualDE00 is the mean CIEDE2000 between the swatches a camera read and the
	// model, LargestDE00 the largest one; 0 where all were read by eye.
	ResidualDE00, LargestDE00 float64
	// NoiseDE00 is the CIEDE2000 that readings of one look differ by, from the
	// swatches that fit; about 1 for a good photograph.
	NoiseDE00 float64
	// DoseLnScatter is by how much ln dose differs from swatch to swatch beyond the
	// settings, as paint of uneven thickness makes it; 0.02 is 2 %.
	DoseLnScatter float64
	// WordsAgreed is how many of the words an eye gave lie where the model has
	// them, and WordsRead how many there were.
	WordsAgreed, WordsRead int
	// PowerOffsetPercent is the power up to which the machine gives no light. Where
	// PowerOffsetFitted is true the chart has told it and PowerOffsetSD is its standard
	// error; the curve then holds for a machine with this offset only.
	PowerOffsetPercent float64
	PowerOffsetFitted  bool
	PowerOffsetSD      float64
	// PassExponent is that of the curve; PassExponentFitted tells whether the chart
	// had swatches of several passes.
	PassExponent       float64
	PassExponentFitted bool
	// ScorchReached tells whether the ground has darkened on the chart.
	ScorchReached bool
	// Next are the swatches that would tell most, in the order of what each adds.
	Next  []burn.Setting
	Range Range // what the chart covered
	Grade Grade
	Notes []string // a sentence each: what is assumed, what to look at, what to burn
}

// Grade is a fit in one word.
type Grade string

// The grades.
const (
	Good Grade = "good" // all coats measured, all swatches fit
	Fair Grade = "fair" // something is assumed: see the notes
	Poor Grade = "poor" // the model does not describe the swatches well
)

// Status is the grade and all notes as one text.
func (r Result) Status() string {
	if len(r.Notes) == 0 {
		return string(r.Grade)
	}
	return string(r.Grade) + ": " + strings.Join(r.Notes, "; ")
}

// Coat is what the chart told of one coat.
type Coat struct {
	Name             string
	BreakThroughJCM2 float64
	Low, High        float64 // hold the break-through dose with 95 %
	LnSD             float64 // standard error of its logarithm
	// DrawnLnSD is a second opinion on LnSD from swatches drawn anew; 0 where there
	// were too few.
	DrawnLnSD float64
	Spread    float64
	Colour    colour.Stored
	// Inside is the number of swatches on which between 5 and 95 % of the coat is gone.
	Inside int
	// Reached is false where no swatch has lost a quarter of the coat: its dose is
	// then only known to be higher, and the value is a guess.
	Reached bool
	// SpreadAssumed is true where fewer than two swatches lie inside: the spread
	// then leans on what the stack had.
	SpreadAssumed bool
	// Paint is how well its colour is known.
	Paint Paint
	// ToldApart is true where the chart shows the coat and what lies beneath it as
	// two: a swatch shows the one without the other, and they look unlike.
	ToldApart bool
}

// Swatch is one swatch against the model.
type Swatch struct {
	ID        string
	Setting   burn.Setting
	DoseJCM2  float64
	Predicted colour.Linear
	// DE00 is the CIEDE2000 to the reading; 0 for one by eye.
	DE00 float64
	// Agrees is false for a swatch that no longer pulls, as it is far from where all
	// others put it, and for a word that the model does not have there.
	Agrees bool
}

// resultFile is the result as the command line prints it.
type resultFile struct {
	BreakThrough   []float64       `json:"break_through_j_per_cm2"`
	BreakThrough95 [][2]float64    `json:"break_through_95"`
	BreakThroughSD []float64       `json:"break_through_ln_sd"`
	Reached        []bool          `json:"reached"`
	Spread         []float64       `json:"spread"`
	SpreadAssumed  []bool          `json:"spread_assumed"`
	Colours        []colour.Stored `json:"colours"`
	GroundColour   colour.Stored   `json:"ground_colour"`
	Measured       []bool          `json:"colour_measured"`
	ColourSD       []float64       `json:"colour_sd_de00"`
	GroundMeasured bool            `json:"ground_colour_measured"`
	GroundSD       float64         `json:"ground_colour_sd_de00"`
	ToldApart      []bool          `json:"told_apart"`
	Scorch         float64         `json:"scorch_dose_j_per_cm2"`
	ScorchReached  bool            `json:"scorch_reached"`
	PowerOffset    float64         `json:"power_offset_percent"`
	OffsetFitted   bool            `json:"power_offset_fitted"`
	PassExponent   float64         `json:"pass_exponent"`
	ResidualDE00   *float64        `json:"residual_de00"`
	LargestDE00    *float64        `json:"largest_de00"`
	NoiseDE00      float64         `json:"noise_de00"`
	DoseLnScatter  float64         `json:"dose_ln_scatter"`
	WordsAgreed    int             `json:"words_agreed"`
	WordsRead      int             `json:"words_read"`
	Swatches       []swatchFile    `json:"swatches"`
	Next           []burn.Setting  `json:"next"`
	Range          Range           `json:"covered"`
	Grade          Grade           `json:"grade"`
	Notes          []string        `json:"notes"`
	Status         string          `json:"status"`
}

type swatchFile struct {
	ID     string  `json:"id"`
	Dose   float64 `json:"dose_j_per_cm2"`
	DE00   float64 `json:"de00"`
	Agrees bool    `json:"agrees"`
}

// MarshalJSON writes the result with units in its keys, colours from the top coat
// down. The residuals are null where all swatches were read by eye.
func (r Result) MarshalJSON() ([]byte, error) {
	f := resultFile{
		GroundColour: r.Stack.Ground.Colour, GroundMeasured: r.Ground.Measured, GroundSD: r.Ground.SDDE00,
		Scorch: r.Stack.Curve.ScorchDoseJCM2, ScorchReached: r.ScorchReached,
		PowerOffset: r.PowerOffsetPercent, OffsetFitted: r.PowerOffsetFitted, PassExponent: r.PassExponent,
		NoiseDE00: r.NoiseDE00, DoseLnScatter: r.DoseLnScatter,
		WordsAgreed: r.WordsAgreed, WordsRead: r.WordsRead,
		Next: append([]burn.Setting{}, r.Next...), Range: r.Range, Grade: r.Grade,
		Notes: append([]string{}, r.Notes...), Status: r.Status(),
	}
	for _, c := range r.Coats {
		f.BreakThrough = append(f.BreakThrough, c.BreakThroughJCM2)
		f.BreakThrough95 = append(f.BreakThrough95, [2]float64{c.Low, c.High})
		f.BreakThroughSD = append(f.BreakThroughSD, c.LnSD)
		f.Reached = append(f.Reached, c.Reached)
		f.Spread = append(f.Spread, c.Spread)
		f.SpreadAssumed = append(f.SpreadAssumed, c.SpreadAssumed)
		f.Colours = append(f.Colours, c.Colour)
		f.Measured = append(f.Measured, c.Paint.Measured)
		f.ColourSD = append(f.ColourSD, c.Paint.SDDE00)
		f.ToldApart = append(f.ToldApart, c.ToldApart)
	}
	for _, s := range r.Swatches {
		f.Swatches = append(f.Swatches, swatchFile{s.ID, s.DoseJCM2, s.DE00, s.Agrees})
	}
	if r.WordsRead < len(r.Swatches) {
		f.ResidualDE00, f.LargestDE00 = &r.ResidualDE00, &r.LargestDE00
	}
	return json.Marshal(f)
}

// result puts the fit into the words of the stack.
func (f *fitted) result(ctx context.Context, u uncertainty, o Options) (Result, error) {
	r := Result{
		NoiseDE00: f.noise * math.Sqrt(3), DoseLnScatter: f.scatter, PowerOffsetPercent: f.in.offset,
		PassExponent: f.givenExponent, Range: f.in.covered(),
	}
	if f.offset {
		r.PowerOffsetFitted = true
		r.PowerOffsetPercent, r.PowerOffsetSD = f.x[f.offsetAt()], u.sd[f.offsetAt()]
	}
	if f.passes {
		r.PassExponentFitted, r.PassExponent = true, f.x[f.passesAt()]
	}
	gone := f.compare(&r)
	for i := range f.coats {
		r.Coats = append(r.Coats, f.coatResult(i, gone[i], u))
	}
	f.paints(&r, gone, u)
	r.ScorchReached = f.scorch && gone[f.coats][len(f.samples)-1] >= 0.1
	var err error
	if r.Stack, err = f.stack(r); err != nil {
		return r, err
	}
	if o.Next > 0 {
		if r.Next, err = f.next(ctx, u, o.Next); err != nil {
			return r, err
		}
	}
	r.Grade, r.Notes = f.status(r, gone)
	return r, nil
}

// compare sets the swatches against the model. gone holds for each coat, and last
// for the ground's own colour, how much of it each swatch has lost.
func (f *fitted) compare(r *Result) (gone [][]float64) {
	gone = make([][]float64, f.coats+1)
	l := f.layers(f.x)
	photos := 0
	for i := range f.samples {
		s := &f.samples[i]
		light := f.show(f.x, &l, s, f.shares, nil)
		ln, _, _ := f.lnDose(f.x, s)
		w := Swatch{ID: s.id, Setting: s.setting, DoseJCM2: math.Exp(ln), Predicted: light.linear(), Agrees: true}
		if s.eye {
			r.WordsRead++
			w.Agrees = f.agrees(s.word)
			r.WordsAgreed += one(w.Agrees)
		} else {
			photos++
			w.DE00 = colour.DE2000(light.linear().Lab(), s.look)
			_, weight := f.loss(f.apart(s, light).length())
			w.Agrees = weight > 0.1
			r.ResidualDE00 += w.DE00
			r.LargestDE00 = math.Max(r.LargestDE00, w.DE00)
		}
		r.Swatches = append(r.Swatches, w)
		left := 1.0
		for k := range f.coats {
			left -= f.shares[k]
			gone[k] = append(gone[k], left)
		}
		scorched := 0.0
		if f.scorch {
			scorched = f.shares[f.coats+1]
		}
		gone[f.coats] = append(gone[f.coats], scorched)
	}
	if photos > 0 {
		r.ResidualDE00 /= float64(photos)
	}
	return gone
}

// agrees tells whether a word is near the depth at which the model has the swatch
// that was shown last.
func (f *fitted) agrees(word depth) bool {
	const near = 0.35 // of a coat
	at, left := 0.0, 1.0
	for k := range f.coats {
		left -= f.shares[k]
		at += left
	}
	if f.scorch {
		at += f.shares[f.coats+1]
	}
	return at > word.low-near && at < word.high+near
}

func (f *fitted) coatResult(i int, gone []float64, u uncertainty) Coat {
	at := f.breakThrough(i)
	c := Coat{
		Name:             f.in.stack.Coats[i].Name,
		BreakThroughJCM2: math.Exp(f.x[at]),
		Low:              math.Exp(u.low[i]),
		High:             math.Exp(u.high[i]),
		LnSD:             math.Min((u.high[i]-u.low[i])/(2*u.within95), coat.MaxSpread),
		Spread:           math.Exp(f.x[f.spread(i)]),
		Colour:           f.stored(i),
	}
	if u.drawn != nil {
		c.DrawnLnSD = u.drawn[at]
	}
	for _, g := range gone {
		c.Inside += one(g >= 0.05 && g <= 0.95)
		c.Reached = c.Reached || g >= 0.25
	}
	c.SpreadAssumed = c.Inside < 2
	return c
}

// stored is the colour of a layer as files hold it.
func (f *fitted) stored(layer int) colour.Stored {
	at := f.look(layer)
	return triple{f.x[at], f.x[at+1], f.x[at+2]}.lab().Linear().Stored()
}

// stack is the one given with what was found. Each coat's lower face gets a point of
// the curve, so that the curve gives the break-throughs back exactly; the onset
// keeps its share of the first one.
func (f *fitted) stack(r Result) (coat.Stack, error) {
	s := f.in.stack.Clone()
	was, err := expectedDoses(s)
	if err != nil {
		return s, err
	}
	onset := math.Min(s.Curve.Points[0].DoseJCM2/math.Exp(was[0]), 0.99)
	c := coat.Curve{
		Calibrated:     true,
		Points:         []coat.Point{{DoseJCM2: onset * r.Coats[0].BreakThroughJCM2}},
		ScorchDoseJCM2: s.Curve.ScorchDoseJCM2,
		ScorchColour:   s.Curve.ScorchColour,
		PassExponent:   s.Curve.PassExponent,
	}
	if r.PassExponentFitted {
		c.PassExponent = r.PassExponent
	}
	for i, found := range r.Coats {
		s.Coats[i].Colour = found.Colour
		c.Points = append(c.Points, coat.Point{DoseJCM2: found.BreakThroughJCM2, DepthUM: s.DepthOfUM(i)})
		c.Spread = append(c.Spread, found.Spread)
		c.BreakThroughSD = append(c.BreakThroughSD, found.LnSD)
	}
	s.Ground.Colour = f.stored(f.coats)
	if f.scorch {
		c.ScorchDoseJCM2 = math.Exp(f.x[f.scorchDose()])
		if r.ScorchReached {
			c.ScorchColour = f.stored(f.coats + 1)
		}
	}
	s.Curve = c
	return s, s.Validate()
}
