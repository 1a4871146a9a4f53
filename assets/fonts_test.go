package assets_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
)

func TestFontsAreWholeAndLicensed(t *testing.T) {
	used := map[string]bool{}
	for _, name := range assets.FontNames() {
		t.Run(name, func(t *testing.T) {
			data, ok := assets.Font(name)
			require.True(t, ok)
			font, err := lettering.ParseFont(name, data)
			require.NoError(t, err)
			require.NotEqual(t, name, font.FullName(), "the makers' name is in the font")
			for r := ' '; r <= '~'; r++ {
				require.True(t, font.Has(r), "%q", r)
			}
			for _, r := range "ÀÉÎÕÜßçñøåœ–—‘’“”…£" {
				require.True(t, font.Has(r), "%q", r)
			}
			licence, ok := assets.FontLicence(name)
			require.True(t, ok)
			require.Regexp(t, `(?s)Copyright.*(Open Font License|Apache License)|public\s+domain`, licence)
			family := strings.TrimRight(strings.Fields(font.FullName())[0], ",")
			require.Contains(t, assets.Licences(), family, "the list of licences names it")
			used[family] = true
		})
	}
	require.GreaterOrEqual(t, len(used), 4)
}

func TestFontFolderHoldsNothingElse(t *testing.T) {
	entries, err := os.ReadDir("fonts")
	require.NoError(t, err)
	fonts, total := 0, int64(0)
	for _, e := range entries {
		info, err := e.Info()
		require.NoError(t, err)
		total += info.Size()
		if !strings.HasSuffix(e.Name(), "-LICENCE.txt") {
			fonts++
		}
	}
	require.Len(t, assets.FontNames(), fonts)
	require.Less(t, total, int64(1_500_000), "the program carries them all")
}

func TestFontsBelongToTheCaller(t *testing.T) {
	data, _ := assets.Font(assets.DefaultFont)
	data[0] ^= 0xff
	again, ok := assets.Font(assets.DefaultFont)
	require.True(t, ok)
	require.NotEqual(t, data[0], again[0])
	_, ok = assets.Font("none")
	require.False(t, ok)
	_, ok = assets.FontLicence("none")
	require.False(t, ok)
}
