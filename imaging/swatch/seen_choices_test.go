package swatch

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
)

func TestSeenChoicesFollowTheDose(t *testing.T) {
	two := coat.Stack{Coats: []coat.Coat{{Name: "slate"}, {Name: "cream"}}, Ground: coat.Ground{Name: "birch"}}
	require.Equal(t, []string{
		"slate", "mostly slate", "slate and cream", "mostly cream", "cream", "cream and ground", "mostly ground", "ground",
	}, SeenChoices(two))

	scorching := two
	scorching.Curve.ScorchDoseJCM2 = 300
	require.Equal(t, append(SeenChoices(two), "scorched"), SeenChoices(scorching))

	twice := coat.Stack{Coats: []coat.Coat{{Name: "slate"}, {}, {Name: "Slate"}}}
	for _, stack := range []coat.Stack{two, scorching, twice, {Coats: []coat.Coat{{}}}} {
		there := map[Seen]bool{}
		for _, word := range SeenChoices(stack) {
			seen, err := ParseSeen(word, stack)
			require.NoError(t, err, word)
			require.False(t, there[seen], "%s says what another does", word)
			there[seen] = true
		}
		require.NotEmpty(t, there)
	}
}
