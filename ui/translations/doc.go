// Package translations holds what the window says, one JSON file a language, by
// the keys that the code asks for. English stands in the code beside each key
// too, so that it can be read there; a test keeps the two alike.
package translations
