// Package session owns the open job. It knows nothing of the toolkit: the
// window, or a test, edits the document through it, hears of changes, and is
// handed finished pictures.
//
// Start with [New]. Every edit goes through [Session.Edit] and can be undone; a
// drag is one step. Pictures are made by one background worker that always
// works on the newest state: a quick picture first, then, when nothing new has
// come, the exact one. Methods may be called from any goroutine; the functions
// handed to [Session.Subscribe] and [Options.Render] are called from the
// goroutine of the edit and from the worker, and must not call back into Close.
package session
