package translations

import (
	"embed"
	"fmt"

	"fyne.io/fyne/v2/lang"
)

//go:embed text/*.json
var files embed.FS

// Load makes the translations known to the toolkit; call it before anything is
// shown.
func Load() error {
	if err := lang.AddTranslationsFS(files, "text"); err != nil {
		return fmt.Errorf("translations: %w", err)
	}
	return nil
}
