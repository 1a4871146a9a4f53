// Package strict reads the program's JSON files without guessing: a field it does
// not know or that stands there twice, a wrong type or a second value is refused, and
// the message names the place by its path, for instance coats[1].colour.
//
// Start with [Decode].
package strict
