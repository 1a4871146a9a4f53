package bench

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// paste opens the job or the picture whose file was copied. The toolkit's clipboard
// holds text alone: file managers put the file's address there.
func (b *Bench) paste() {
	path, ok := copiedFile(fyne.CurrentApp().Clipboard().Content())
	if !ok {
		b.notice.Inform(lang.X("paste.none", "No copied file is on the clipboard."),
			lang.X("paste.next", "Copy a picture's file in the file manager, or drop it on the window."))
		return
	}
	b.OpenPath(path)
}

// copiedFile is the file that a text of the clipboard names, by its address or path.
func copiedFile(text string) (path string, ok bool) {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || line == "copy" || line == "cut" { // what some file managers put first
			continue
		}
		path = line
		if u, err := url.Parse(line); err == nil && u.Scheme == "file" {
			path = filepath.FromSlash(u.Path)
		}
		info, err := os.Stat(path)
		return path, err == nil && info.Mode().IsRegular() && filepath.IsAbs(path)
	}
	return "", false
}
