// Package burn knows the machine: how much light a setting gives, and where on
// the panel it falls.
//
// Start with [ReadMachine] and a [Setting]. [Dose] is the dose of an even, fully
// burned field; [EqualDose] finds the power that gives the same dose at another
// speed or pitch. [Expose] gives the dose map of a raster, read through a
// [Source], a row at a time; an [Exposer] does the same for callers with many
// tiles or bands. [ChooseGrid] says how finely to look.
//
// Lengths are in mm, speeds in mm/s, light in watts, doses in J/cm2. Shares of
// power run from 0 to 1. Rows run down the raster, dot (0,0) is its upper left.
//
// # The dose map
//
// The beam is a Gaussian spot whose widths, as ISO 11146 measures them
// (D4sigma), are four standard deviations. It moves along the rows; a burned dot
// has the laser on over its own cell, one pitch wide. With sx and sy the
// standard deviations along and across, q the dot's share of power, and yj the
// middle of row j,
//
//	D(x, y) = 100 P / v * sum over the dots [a,b] of row j:
//	          q N(y-yj; sy) (Phi((x-a)/sx) - Phi((x-b)/sx))
//
// taken at the middle of each of k x k sub-cells of a dot. Where neighbours add
// less than a millionth of the peak they are left out, and the rest is brought
// up so that a fully burned field has the mean dose 100 P/(v pitch) for every
// beam.
//
// A beam much narrower than the rows of sub-cells falls between their middles.
// Where that would put the mean wrong by more than 0.4 %, the value of a sub-cell
// is its mean across the rows instead; [ChooseGrid] never leads there unless it
// is held back by its limit of 8.
//
// # Limits
//
// The dose is light alone. Heat travels while the beam passes, so equal doses
// at other speeds, pitches or focus need not be equal burns: see
// [EqualDoseCaution]. Light outside the raster's dots, the run-up and the ramps
// of a slow machine are taken as dark.
package burn
