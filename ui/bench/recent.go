package bench

import (
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// recentPreference keeps the paths of the jobs that were open last, the newest first.
const recentPreference = "recent.jobs"

const mostRecent = 8

func recentJobs() []string { return fyne.CurrentApp().Preferences().StringList(recentPreference) }

// remember puts the open job's file first among the recent ones.
func (b *Bench) remember() {
	path := b.s.Path()
	if path == "" || path == b.remembered {
		return
	}
	b.remembered = path
	recent := slices.DeleteFunc(recentJobs(), func(p string) bool { return p == path })
	recent = append([]string{path}, recent...)
	fyne.CurrentApp().Preferences().SetStringList(recentPreference, recent[:min(len(recent), mostRecent)])
	b.win.SetMainMenu(b.menu())
}

// recentMenu opens one of the recent jobs.
func (b *Bench) recentMenu() *fyne.MenuItem {
	m := fyne.NewMenuItem(lang.X("menu.recent", "Open a recent job"), nil)
	var items []*fyne.MenuItem
	for _, path := range recentJobs() {
		label := filepath.Base(path) + "  (" + filepath.Dir(path) + ")"
		items = append(items, fyne.NewMenuItem(label, b.unasked(func() { b.OpenPath(path) })))
	}
	if m.Disabled = len(items) == 0; !m.Disabled {
		m.ChildMenu = fyne.NewMenu("", items...)
	}
	return m
}
