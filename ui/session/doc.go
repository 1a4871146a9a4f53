// Package session owns the open job. It knows nothing of the toolkit: the
// window, or a test, edits the document through it, hears of changes, and is
// handed finished pictures.
//
// Start with [New]. Every edit goes through [Session.Edit] and can be undone; a
// drag is one step. Pictures are made by one background worker that always
// works on the newest state: a quick picture first, then, when nothing new has
// come, the exact one. What it learns on the way, such as why which parts burn, it
// tells as [Found], and what comes out at which dose as [Depths]. Suggestions
// ([Session.SuggestCrops] and its kin) and the full views ([Session.PowerStrip],
// [Session.CoatMaps]) are worked out by whoever asks, beside the window.
//
// [Session.Compare] shows another job beside the open one, [Session.Probe] cuts the
// panel through at a point, and [Session.Keep] keeps unsaved changes against a crash.
//
// [ReadChart] and [ByEye] take in what a burned chart looks like, [Session.FitCurve] finds
// the stack's curve from that, and [Session.CompareFinished] holds a finished panel
// against its proof. None of them changes the job: [Session.UseCurve] and its kin do.
// [Desk] keeps the charts being read from one start to the next, [Session.KeepCurve] keeps
// a curve and its readings in the library.
//
// Methods may be called from any goroutine; the functions handed to
// [Session.Subscribe] and [Options] are called from the goroutine of the edit and
// from the worker, and must not call back into Close.
package session
