package house

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Nothing here opens a connection. No source imports what could; and the command line,
// two of whose modules know the names of hosts, has no call in it that dials. Of the
// window, whose toolkit can fetch pictures, cmd/undercoat watches a run.
var connects = []string{"net", "net/http", "net/rpc", "net/smtp", "net/textproto", "crypto/tls", "log/syslog"}

// networkFaults finds the imports of one file that could open a connection.
func networkFaults(f sourceFile) []string {
	var faults []string
	for _, spec := range f.syntax.Imports {
		imported, _ := strconv.Unquote(spec.Path.Value)
		for _, c := range connects {
			if imported == c || strings.HasPrefix(imported, c+"/") && imported != "net/url" {
				faults = append(faults, fmt.Sprintf("%s: %s can open connections", f.at(spec), imported))
				break
			}
		}
	}
	return faults
}

func TestNothingImportsTheNetwork(t *testing.T) {
	var faults []string
	for _, f := range goFiles(t) {
		faults = append(faults, networkFaults(f)...)
	}
	requireNone(t, faults)
}

func TestNetworkRuleSeesOffenders(t *testing.T) {
	for imported, want := range map[string]int{
		"net": 1, "net/http": 1, "net/http/httptest": 1, "crypto/tls": 1, "net/url": 0, "netting": 0, "crypto/sha256": 0,
	} {
		f, err := parse("ui/bench/x.go", "package x\nimport _ \""+imported+"\"\n")
		require.NoError(t, err)
		require.Len(t, networkFaults(f), want, imported)
	}
}

func TestCommandLineCannotDial(t *testing.T) {
	program := filepath.Join(t.TempDir(), "undercoat-cli")
	goCommand(t, "build", "-buildvcs=false", "-o", program, "./cmd/undercoat-cli")
	names := goCommand(t, "tool", "nm", program)
	require.Contains(t, names, " main.main\n", "the names can be read")
	for _, call := range []string{"net.(*Dialer).DialContext", "net.DialTimeout", "net.socket", "net.Listen", "net/http.(*Client).do"} {
		require.NotContains(t, names, " "+call+"\n")
	}
}
