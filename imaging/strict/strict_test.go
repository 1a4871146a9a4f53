package strict_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/strict"
)

type inner struct {
	Name   string        `json:"name"`
	Colour colour.Stored `json:"colour"`
}

type outer struct {
	Kind  string  `json:"kind"`
	Inner inner   `json:"inner"`
	List  []inner `json:"list"`
	Size  float64 `json:"size_mm"`
	Count int     `json:"count"`
}

func TestDecodeReadsWhatItKnows(t *testing.T) {
	v := outer{Kind: "kept", Size: 3}
	require.NoError(t, strict.Decode([]byte(`{"size_mm":4,"list":[{"name":"a","colour":"#010203"}]}`), &v))
	require.Equal(t, outer{Kind: "kept", Size: 4, List: []inner{{Name: "a", Colour: colour.Stored{R: 1, G: 2, B: 3}}}}, v)
}

func TestDecodeNamesThePlace(t *testing.T) {
	for name, c := range map[string]struct{ data, want string }{
		"top":          {`{"knd":"x"}`, "knd is not known"},
		"inner":        {`{"inner":{"nam":"x"}}`, "inner.nam is not known"},
		"list":         {`{"list":[{},{"nam":"x"}]}`, "list[1].nam is not known"},
		"other case":   {`{"Kind":"x"}`, "Kind is not known"},
		"type":         {`{"inner":{"name":3}}`, "inner.name is a number where a text is wanted"},
		"size":         {`{"size_mm":"3"}`, "size_mm is a string where a number is wanted"},
		"colour":       {`{"inner":{"colour":"teal"}}`, "#rrggbb"},
		"empty":        {``, "ends too early"},
		"cut short":    {`{"kind":"x"`, "ends too early"},
		"not json":     {`kind=x`, "not JSON"},
		"too large":    {`{"size_mm":1e999}`, "size_mm is 1e999, which is no number that can be reckoned with"},
		"a fraction":   {`{"count":1.5}`, "count is 1.5, which is no whole number that"},
		"twice":        {`{"kind":"x","kind":"y"}`, "kind stands there twice"},
		"twice below":  {`{"list":[{"name":"a"},{"name":"b","colour":"#010203","name":"b"}]}`, "list[1].name stands there twice"},
		"twice unread": {`{"inner":{"x":[[],{"y":{},"y":[]}]}}`, "inner.x[1].y stands there twice"},
		"second value": {`{} {}`, "more follows"},
		"not object":   {`[1]`, "the file is an array where an object is wanted"},
	} {
		t.Run(name, func(t *testing.T) {
			require.ErrorContains(t, strict.Decode([]byte(c.data), &outer{}), c.want)
		})
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"list":[{"name":"a","colour":"#010203"}],"inner":{}}`))
	f.Add([]byte(`{"size_mm":1e999}`))
	f.Add([]byte(`{"list":[{"name":"a","":[{"":1}],"name":"a"}]}`))
	f.Fuzz(func(_ *testing.T, data []byte) {
		_ = strict.Decode(data, &outer{}) // must not panic
	})
}
