package export

import (
	"context"
	"io"
)

// UntilDone is w, which refuses to write once ctx has ended. Every writer in
// this package writes every few hundredths of a second at the least, so that
// handing it UntilDone(ctx, w) makes it stop with the context and return its error.
func UntilDone(ctx context.Context, w io.Writer) io.Writer { return &untilDone{ctx, w} }

type untilDone struct {
	ctx context.Context
	w   io.Writer
}

func (u *untilDone) Write(p []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.w.Write(p)
}
