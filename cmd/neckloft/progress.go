package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// showProgress is a bar on the terminal, or nothing where standard error is not
// one.
type showProgress struct{ bar *progressbar.ProgressBar }

// progress returns a bar for work of the given name.
func (p *program) progress(name string) *showProgress {
	f, ok := p.err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return &showProgress{}
	}
	return &showProgress{progressbar.NewOptions(1,
		progressbar.OptionSetWriter(io.Writer(f)),
		progressbar.OptionSetDescription(name),
		progressbar.OptionSetWidth(30),
		progressbar.OptionThrottle(80*time.Millisecond),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetPredictTime(false),
	)}
}

// to shows that so many of total steps are done. It may be called from several
// goroutines.
func (b *showProgress) to(done, total int) {
	if b.bar == nil {
		return
	}
	b.bar.ChangeMax(total)
	_ = b.bar.Set(done) // a bar that cannot be drawn is no reason to stop
}

// done takes the bar away.
func (b *showProgress) done() {
	if b.bar != nil {
		_ = b.bar.Finish()
	}
}
