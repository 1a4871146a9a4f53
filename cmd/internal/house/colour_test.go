package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The window is handed pictures and colours to draw; it computes neither. What
// can be told of that from the source alone:
//
//   - image/color is imported in ui/theme and ui/widgets only, for constants;
//   - of imaging/colour only the stored colour, its parser and the ties of other
//     colours to it are named;
//   - no colour is turned into numbers (.RGBA(), model.Convert, .Linear(), .Lab(), .XYZ());
//   - nothing is calculated with a colour's R, G or B;
//   - no pixel of a picture is touched one by one (.Pix, .SetRGBA, .RGBAAt ...).
//
// Tests of the window may look at pixels: that is how they see what was drawn.
var (
	colourFolders  = []string{"ui/theme", "ui/widgets"}
	colourNames    = []string{"Stored", "StoredOf", "Linear", "ParseHex"}
	colourNumbers  = []string{"RGBA", "Linear", "Lab", "XYZ", "Mix"}
	pixelCalls     = []string{"SetRGBA", "SetRGBA64", "SetNRGBA", "SetGray", "SetGray16", "RGBAAt", "NRGBAAt", "GrayAt", "Gray16At", "RGBA64At"}
	channels       = []string{"R", "G", "B"}
	arithmetic     = []token.Token{token.ADD, token.SUB, token.MUL, token.QUO, token.REM, token.SHL, token.SHR, token.AND, token.OR, token.XOR}
	arithmeticSets = []token.Token{token.ADD_ASSIGN, token.SUB_ASSIGN, token.MUL_ASSIGN, token.QUO_ASSIGN, token.REM_ASSIGN, token.SHL_ASSIGN, token.SHR_ASSIGN, token.AND_ASSIGN, token.OR_ASSIGN, token.XOR_ASSIGN}
)

// colourFaults finds the colour formulas and pixel loops of one file of ui.
func colourFaults(f sourceFile) []string {
	var faults []string
	fault := func(at ast.Node, format string, args ...any) {
		faults = append(faults, f.at(at)+": "+fmt.Sprintf(format, args...))
	}
	house := "" // what this file calls imaging/colour
	for _, spec := range f.syntax.Imports {
		switch imported, _ := strconv.Unquote(spec.Path.Value); imported {
		case "image/color":
			if !slices.Contains(colourFolders, f.folder()) {
				fault(spec, "image/color is for %s", strings.Join(colourFolders, " and "))
			}
		case module + "imaging/colour":
			house = "colour"
			if spec.Name != nil {
				house = spec.Name.Name
			}
		}
	}
	ast.Inspect(f.syntax, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if id, ok := n.X.(*ast.Ident); ok && house != "" && id.Name == house && !slices.Contains(colourNames, n.Sel.Name) {
				fault(n, "colour.%s is a formula: compute it in imaging", n.Sel.Name)
			}
			if n.Sel.Name == "Pix" {
				fault(n, "pixels are touched in imaging")
			}
		case *ast.CallExpr:
			if what := callFault(n); what != "" {
				fault(n, "%s", what)
			}
		case *ast.BinaryExpr:
			if slices.Contains(arithmetic, n.Op) && (hasChannel(n.X) || hasChannel(n.Y)) {
				fault(n, "a colour's channels are calculated with in imaging")
			}
		case *ast.AssignStmt:
			if slices.Contains(arithmeticSets, n.Tok) && (hasChannel(n.Lhs[0]) || hasChannel(n.Rhs[0])) {
				fault(n, "a colour's channels are calculated with in imaging")
			}
		}
		return true
	})
	return faults
}

// callFault tells the calls that read numbers from a colour or a pixel.
func callFault(call *ast.CallExpr) string {
	method, ok := call.Fun.(*ast.SelectorExpr)
	if !ok {
		return ""
	}
	name := method.Sel.Name
	switch {
	case slices.Contains(pixelCalls, name):
		return "pixels are touched in imaging"
	case name == "Convert":
		if model, ok := method.X.(*ast.SelectorExpr); ok && strings.HasSuffix(model.Sel.Name, "Model") {
			return "colours are converted in imaging"
		}
	case len(call.Args) == 0 && slices.Contains(colourNumbers, name), name == "Mix":
		return "." + name + "() turns a colour into numbers: do it in imaging"
	}
	return ""
}

// hasChannel looks for a channel in an operand, through brackets, conversions and the like.
func hasChannel(operand ast.Expr) bool {
	found := false
	ast.Inspect(operand, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok && slices.Contains(channels, s.Sel.Name) {
			found = true
		}
		return !found
	})
	return found
}

func TestWindowComputesNoColour(t *testing.T) {
	var faults []string
	seen := 0
	for _, f := range goFiles(t) {
		if strings.HasPrefix(f.name, "ui/") && !f.isTest() {
			seen++
			faults = append(faults, colourFaults(f)...)
		}
	}
	require.NotZero(t, seen, "no source in ui to look at")
	requireNone(t, faults)
}

func TestColourRuleSeesOffenders(t *testing.T) {
	const head = "package x\nimport (\"image/color\"; \"undercoat/imaging/colour\")\n"
	cases := []struct {
		name, file, text string
		want             string
	}{
		{"a constant", "ui/theme/x.go", head + "var c = color.NRGBA{R: 1, G: 2, B: 3, A: 255}", ""},
		{"a stored colour shown", "ui/widgets/x.go", head + "func f(s colour.Stored) color.Color { return color.NRGBA{R: s.R, G: s.G, B: s.B, A: 255} }", ""},
		{"a look shown", "ui/widgets/x.go", head + "func f(l colour.Linear) colour.Stored { return l.Stored() }", ""},
		{"constants elsewhere", "ui/bench/x.go", head + "var c color.Color", "image/color is for"},
		{"a formula", "ui/widgets/x.go", head + "var x = colour.Decode(0.5)", "colour.Decode is a formula"},
		{"a formula under another name", "ui/widgets/x.go", "package x\nimport c \"undercoat/imaging/colour\"\nvar x = c.DE2000(a, b)", "colour.DE2000 is a formula"},
		{"numbers from a colour", "ui/widgets/x.go", head + "func f(c color.Color) { r, _, _, _ := c.RGBA(); _ = r }", ".RGBA() turns"},
		{"linear numbers", "ui/widgets/x.go", head + "func f(s colour.Stored) { _ = s.Linear() }", ".Linear() turns"},
		{"a conversion", "ui/widgets/x.go", head + "func f(c color.Color) { _ = color.GrayModel.Convert(c) }", "converted in imaging"},
		{"a mean", "ui/widgets/x.go", head + "func f(a, b color.NRGBA) uint8 { return (a.R + b.R) / 2 }", "channels are calculated"},
		{"a converted channel", "ui/widgets/x.go", head + "func f(a color.NRGBA) float64 { return float64(a.G) * 0.5 }", "channels are calculated"},
		{"a channel in place", "ui/widgets/x.go", head + "func f(a color.NRGBA) { a.B /= 2 }", "channels are calculated"},
		{"a pixel loop", "ui/widgets/x.go", head + "func f(m *image.RGBA) { for i := range m.Pix { m.Pix[i] = 0 } }", "touched in imaging"},
		{"a pixel set", "ui/widgets/x.go", head + "func f(m *image.RGBA) { m.SetRGBA(0, 0, color.RGBA{}) }", "touched in imaging"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := parse(c.file, c.text)
			require.NoError(t, err)
			got := strings.Join(colourFaults(f), "\n")
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
		})
	}
}
