package fit

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// plain is an ordinary least-squares problem whose slopes are taken by central
// differences: the published sets test the way downhill, not the model.
type plain struct {
	f    func(x float64, b []float64) float64
	x, y []float64
}

func (p plain) hold([]float64) {}

func (p plain) at(b []float64) float64 {
	sum := 0.0
	for i, x := range p.x {
		r := p.f(x, b) - p.y[i]
		sum += r * r
	}
	return sum
}

func (p plain) slope(b []float64, normal *mat.SymDense, half []float64) float64 {
	normal.Zero()
	clear(half)
	row := make([]float64, len(b))
	for i, x := range p.x {
		for k := range b {
			c := append([]float64(nil), b...)
			h := 1e-6 * math.Max(math.Abs(b[k]), 1e-8)
			c[k] = b[k] + h
			up := p.f(x, c)
			c[k] = b[k] - h
			row[k] = (up - p.f(x, c)) / (2 * h)
		}
		r := p.f(x, b) - p.y[i]
		for k, v := range row {
			half[k] += v * r
			for l := k; l < len(row); l++ {
				normal.SetSym(k, l, normal.At(k, l)+v*row[l])
			}
		}
	}
	return p.at(b)
}

func readTable(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// Source: NIST Statistical Reference Datasets, nonlinear regression; see testdata.
func TestLevenbergReachesPublishedFits(t *testing.T) {
	models := map[string]func(x float64, b []float64) float64{
		"Misra1a": func(x float64, b []float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
		"DanWood": func(x float64, b []float64) float64 { return b[0] * math.Pow(x, b[1]) },
		"Rat42":   func(x float64, b []float64) float64 { return b[0] / (1 + math.Exp(b[1]-b[2]*x)) },
		"MGH09": func(x float64, b []float64) float64 {
			return b[0] * (x*x + b[1]*x) / (x*x + b[2]*x + b[3])
		},
		"BoxBOD": func(x float64, b []float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
		"Rat43": func(x float64, b []float64) float64 {
			return b[0] / math.Pow(1+math.Exp(b[1]-b[2]*x), 1/b[3])
		},
	}
	data := map[string]plain{}
	for _, row := range readTable(t, "testdata/nist_strd_data.csv") {
		p := data[row["dataset"]]
		p.f = models[row["dataset"]]
		p.x, p.y = append(p.x, number(t, row["x"])), append(p.y, number(t, row["y"]))
		data[row["dataset"]] = p
	}
	certified := map[string][]map[string]string{}
	for _, row := range readTable(t, "testdata/nist_strd_certified.csv") {
		certified[row["dataset"]] = append(certified[row["dataset"]], row)
	}
	require.Len(t, certified, len(models))
	for name, rows := range certified {
		for _, c := range []struct {
			start   string
			tol     float64 // relative
			damping float64
		}{{"start2", 1e-6, 0.01}, {"start1", 1e-4, 100}} {
			t.Run(name+" from "+c.start, func(t *testing.T) {
				var start []float64
				for _, row := range rows {
					start = append(start, number(t, row[c.start]))
				}
				m, err := levenberg(context.Background(), data[name], start, 2000, c.damping)
				require.NoError(t, err)
				require.True(t, m.settled, "%d steps", m.steps)
				for i, row := range rows {
					want := number(t, row["certified"])
					require.InDelta(t, want, m.x[i], c.tol*math.Abs(want), row["param"])
				}
				want := number(t, rows[0]["residual_ss"])
				require.InDelta(t, want, m.value, 1e-8*want)

				// The standard errors come from the matrix that every fit hands on.
				normal, half := mat.NewSymDense(len(rows), nil), make([]float64, len(rows))
				data[name].slope(m.x, normal, half)
				inverse, err := inverted(normal)
				require.NoError(t, err)
				for i, row := range rows {
					se := math.Sqrt(inverse.At(i, i) * m.value / number(t, row["dof"]))
					require.InDelta(t, number(t, row["certified_se"]), se, 1e-3*se, row["param"])
				}
			})
		}
	}
}

func TestLevenbergStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := plain{func(x float64, b []float64) float64 { return b[0] * x }, []float64{1, 2}, []float64{2, 4}}
	_, err := levenberg(ctx, p, []float64{1}, 10, 0.01)
	require.ErrorIs(t, err, context.Canceled)
}
