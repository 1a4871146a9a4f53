// Package house holds the rules of the code as tests: which folder may import
// which, where each third-party package is named, that no colour is computed in
// the window, that the command line stays free of the toolkit, and that the
// source names no folder of the computer it was written on.
//
// Nothing is to be called here. Each rule is a function from source to faults,
// run over the whole tree in one test and over a small offender in another, so
// that a rule which has gone blind is noticed. A rule changes here first, with its reason.
package house
