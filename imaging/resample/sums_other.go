//go:build !amd64

package resample

// On other processors the plain loops do it all.

func across([]float32, []float32, taps) int { return 0 }

func add([]float64, *[4][]float32, *[4]float32) int { return 0 }

func wholes([]uint16, []float64) int { return 0 }
