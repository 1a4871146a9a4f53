package swatch

import (
	"strconv"
	"strings"

	"undercoat/layout"
)

// Labels are written in cells of 5 x 7 modules, one module apart.
const (
	letterCols, letterRows = 5, 7
	labelHeight            = letterRows * mostModule
	labelClear             = layout.MM(0.6) // above and below a label
	mostModule             = layout.MM(0.25)
)

// letters are the rows of each letter from the top, the leftmost module first.
var letters = map[rune][letterRows]string{
	'0': {".###.", "#...#", "#..##", "#.#.#", "##..#", "#...#", ".###."},
	'1': {"..#..", ".##..", "..#..", "..#..", "..#..", "..#..", ".###."},
	'2': {".###.", "#...#", "....#", "..##.", ".#...", "#....", "#####"},
	'3': {"####.", "....#", "....#", ".###.", "....#", "....#", "####."},
	'4': {"...#.", "..##.", ".#.#.", "#..#.", "#####", "...#.", "...#."},
	'5': {"#####", "#....", "####.", "....#", "....#", "#...#", ".###."},
	'6': {".###.", "#....", "####.", "#...#", "#...#", "#...#", ".###."},
	'7': {"#####", "....#", "...#.", "..#..", ".#...", ".#...", ".#..."},
	'8': {".###.", "#...#", "#...#", ".###.", "#...#", "#...#", ".###."},
	'9': {".###.", "#...#", "#...#", ".####", "....#", "....#", ".###."},
	'.': {".....", ".....", ".....", ".....", ".....", ".##..", ".##.."},
	' ': {},
	'A': {".###.", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"},
	'B': {"####.", "#...#", "#...#", "####.", "#...#", "#...#", "####."},
	'C': {".###.", "#...#", "#....", "#....", "#....", "#...#", ".###."},
	'D': {"####.", "#...#", "#...#", "#...#", "#...#", "#...#", "####."},
	'E': {"#####", "#....", "#....", "####.", "#....", "#....", "#####"},
	'F': {"#####", "#....", "#....", "####.", "#....", "#....", "#...."},
	'G': {".###.", "#...#", "#....", "#.###", "#...#", "#...#", ".###."},
	'H': {"#...#", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"},
	'I': {".###.", "..#..", "..#..", "..#..", "..#..", "..#..", ".###."},
	'J': {"..###", "...#.", "...#.", "...#.", "...#.", "#..#.", ".##.."},
	'K': {"#...#", "#..#.", "#.#..", "##...", "#.#..", "#..#.", "#...#"},
	'L': {"#....", "#....", "#....", "#....", "#....", "#....", "#####"},
	'M': {"#...#", "##.##", "#.#.#", "#.#.#", "#...#", "#...#", "#...#"},
	'N': {"#...#", "##..#", "#.#.#", "#..##", "#...#", "#...#", "#...#"},
	'O': {".###.", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."},
	'P': {"####.", "#...#", "#...#", "####.", "#....", "#....", "#...."},
	'Q': {".###.", "#...#", "#...#", "#...#", "#.#.#", "#..#.", ".##.#"},
	'R': {"####.", "#...#", "#...#", "####.", "#.#..", "#..#.", "#...#"},
	'S': {".####", "#....", "#....", ".###.", "....#", "....#", "####."},
	'T': {"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "..#.."},
	'U': {"#...#", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."},
	'V': {"#...#", "#...#", "#...#", "#...#", "#...#", ".#.#.", "..#.."},
	'W': {"#...#", "#...#", "#...#", "#.#.#", "#.#.#", "##.##", "#...#"},
	'X': {"#...#", "#...#", ".#.#.", "..#..", ".#.#.", "#...#", "#...#"},
	'Y': {"#...#", "#...#", ".#.#.", "..#..", "..#..", "..#..", "..#.."},
	'Z': {"#####", "....#", "...#.", "..#..", ".#...", "#....", "#####"},
}

// Label is what is burned above a swatch: its id, and its power or tint in percent.
func (c Chart) Label(s Swatch) string {
	value := s.Setting.PowerPercent
	if c.Kind == Tints {
		value = 100
		if s.Tint > 0 {
			value = 100 * s.Tint
		}
	}
	return s.ID + " " + strconv.FormatFloat(value, 'f', decimals(value), 64)
}

// decimals is one where it says something.
func decimals(v float64) int {
	if strings.HasSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0") {
		return 0
	}
	return 1
}

// label is the modules of a swatch's label, as rectangles on the chart, nil where
// they would be too small to burn: a module takes two lines and is no thinner than
// the beam.
func (c Chart) label(s Swatch, least layout.MM) []layout.Area {
	for _, text := range []string{c.Label(s), s.ID} {
		cells := len(text)*(letterCols+1) - 1
		module := min(mostModule, s.Size.W/layout.MM(cells))
		if module >= least {
			return modules(text, module, layout.Point{
				X: s.Centre.X - layout.MM(cells)*module/2,
				Y: s.Centre.Y + s.Size.H/2 + labelClear,
			})
		}
	}
	return nil
}

// modules writes a text whose lower left corner is given.
func modules(text string, module layout.MM, at layout.Point) []layout.Area {
	var all []layout.Area
	for i, letter := range text {
		for row, cells := range letters[letter] {
			for col, cell := range cells {
				if cell != '#' {
					continue
				}
				all = append(all, layout.Area{
					Centre: layout.Point{
						X: at.X + module*(layout.MM(i*(letterCols+1)+col)+0.5),
						Y: at.Y + module*(layout.MM(letterRows-1-row)+0.5),
					},
					Size: layout.Size{W: module, H: module},
				})
			}
		}
	}
	return all
}
