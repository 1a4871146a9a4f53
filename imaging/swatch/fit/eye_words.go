package fit

import "undercoat/imaging/swatch"

// depthSeen is the range of depths that words stand for, with the shares of area
// that package swatch gives them. "teal" is a swatch with little else on it,
// "mostly teal" may still hold some of the coat above or already show some of the
// one below, "teal and sunflower" is a mesh of both.
func depthSeen(s swatch.Seen) depth {
	at := float64(s.Layer)
	least, _ := s.Share(s.Layer)
	switch {
	case s.Scorched:
		return depth{at + 0.5, at + 1}
	case s.Second >= 0:
		return depth{at + least, float64(s.Second) - least}
	}
	return depth{at - (1 - least), at + (1 - least)}
}
