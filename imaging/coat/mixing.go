package coat

import "math"

// Mix is the reflectance of an area of which the share areas[i] has the
// reflectance looks[i]; the shares sum to 1, all values are linear, 0..1.
//
// With n = 1 it is the plain mean by area. Sources: A. Murray, "Monochrome
// reproduction in photoengraving", J. Franklin Inst. 221, 1936, for two parts;
// H. E. J. Neugebauer, "Die theoretischen Grundlagen des Mehrfarbenbuchdrucks",
// Z. wiss. Photogr. 36, 1937, for many. n above 1 stands for light that wanders
// sideways in the film before it comes out: J. A. C. Yule and W. J. Nielsen, "The
// penetration of light into paper and its effect on halftone reproduction",
// TAGA Proc. 3, 1951. 0 reads as 1.
func Mix(areas, looks []float64, n float64) float64 {
	sum := 0.0
	if n == 0 || n == 1 {
		for i, a := range areas {
			sum += a * looks[i]
		}
		return sum
	}
	for i, a := range areas {
		sum += a * math.Pow(looks[i], 1/n)
	}
	return math.Pow(sum, n)
}

// normal is the share of a normal distribution below z standard deviations.
func normal(z float64) float64 { return 0.5 * math.Erfc(-z*math.Sqrt2/2) }
