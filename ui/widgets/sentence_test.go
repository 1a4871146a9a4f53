package widgets

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{
		"":                        "",
		"choose a smaller panel":  "Choose a smaller panel.",
		"Nothing was written.":    "Nothing was written.",
		"äußerst wenig":           "Äußerst wenig.",
		"burn it: but slowly":     "Burn it: but slowly.",
		"empty.png: has no bytes": "empty.png: has no bytes.",
		"a/b.png is a folder":     "a/b.png is a folder.",
		"power_percent is 130":    "power_percent is 130.",
		"30 % is too much":        "30 % is too much.",
	} {
		require.Equal(t, want, Sentence(text))
	}
}
