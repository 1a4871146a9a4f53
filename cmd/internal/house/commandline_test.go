package house

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// goCommand runs the go command at the top of the tree, without a C compiler.
func goCommand(t *testing.T, args ...string) string {
	t.Helper()
	cmd := exec.Command("go", args...)
	cmd.Dir = top
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, "go %s: %s", strings.Join(args, " "), stderr.String())
	return string(out)
}

// toolkitPackages are those of a dependency list that draw on a screen.
func toolkitPackages(deps []string) []string {
	var found []string
	for _, dep := range deps {
		if strings.HasPrefix(dep, "fyne.io/") || strings.Contains(dep, "/go-gl/") || strings.HasPrefix(dep, module+"ui/") {
			found = append(found, dep)
		}
	}
	return found
}

func TestCommandLineNeedsNoToolkit(t *testing.T) {
	deps := strings.Fields(goCommand(t, "list", "-buildvcs=false", "-deps", "./cmd/undercoat-cli"))
	require.Contains(t, deps, "undercoat/cmd/undercoat-cli")
	require.Empty(t, toolkitPackages(deps))
}

func TestToolkitRuleSeesOffenders(t *testing.T) {
	deps := []string{"fmt", "fyne.io/fyne/v2", "github.com/go-gl/gl/v2.1/gl", "undercoat/ui/session", "undercoat/imaging/job"}
	require.Equal(t, deps[1:4], toolkitPackages(deps))
}

func TestCommandLineBuildsWithoutC(t *testing.T) {
	program := filepath.Join(t.TempDir(), "undercoat-cli")
	goCommand(t, "build", "-buildvcs=false", "-o", program, "./cmd/undercoat-cli")
	info, err := os.Stat(program)
	require.NoError(t, err)
	require.NotZero(t, info.Size())
}
