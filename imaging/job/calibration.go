package job

import "undercoat/imaging/swatch/fit"

// chartCaution says how the job's setting leaves what the stack's chart covered; it is
// empty where it does not, or where nobody wrote down what the chart covered.
func (d Document) chartCaution() string {
	if o := d.Stack.Curve.Origin; o != nil {
		return fit.Range(o.Covered).Covers(d.Setting)
	}
	return ""
}
