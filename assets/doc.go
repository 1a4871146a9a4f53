// Package assets holds what is built into the program: starter stacks, machines
// and panels as JSON files, the demo picture, the icon, and the licences of what
// was not made here.
//
// Start with [StackNames] and [Stack]. The entries are raw bytes, so that this
// package needs no other one; coat.ReadStack, burn.ReadMachine and layout.Panel
// read them. Every starter curve is uncalibrated: its numbers are starter values
// to try the program with, not measurements of any paint or machine.
//
// The demo picture and the icon are drawn by the command in assets/make:
//
//	go run ./assets/make
package assets
