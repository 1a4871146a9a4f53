// Undercoat-cli does an Undercoat job without a window: it makes job files,
// prepares them for the machine, and predicts what a setting will uncover.
//
// Results go to standard output, messages and progress to standard error. It
// exits with 0 when done, 2 for wrong usage, 3 for bad input, 4 when it cannot
// write, and 130 when interrupted.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second interrupt finds the system's own way of ending a program again.
	context.AfterFunc(ctx, stop)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
