// Package bench is the window: the drawers at the left, in the order of the job,
// the easel with the panel, and the status line.
//
// Start with [New], which fills a window for a session, and [Bench.Close] when
// the window is gone. The bench holds no job of its own: every control edits the
// session, and what it shows is read back from there. All of it runs on the
// toolkit's main goroutine; what comes from others goes through Options.Do.
package bench
