// Package build says which build of the program this is.
package build
