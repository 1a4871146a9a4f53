// Package library keeps what jobs are made of under names: stacks, machines,
// panels, price rates, the readings of burned charts, and the defaults of who works
// here. Each entry is a JSON file of its own in the user's folder, so that it can be
// copied, mailed and put under version control; the starter entries come with the
// program.
//
// Start with [Open], then [Library.Stack] and its like for one entry, or
// [Library.List] for all. An entry of the user's hides a starter of the same
// name. A file that cannot be read is listed with its fault and otherwise passed
// over; asked for by its name it is an error, because another entry in its place
// would burn another panel. Lengths are millimetres.
package library
