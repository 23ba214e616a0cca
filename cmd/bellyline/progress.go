package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// quiet is how long work may take before it talks about itself.
const quiet = time.Second

// progress is a bar on a terminal for work that takes longer than quiet.
type progress struct {
	talk  io.Writer
	start time.Time
	bar   *progressbar.ProgressBar
}

// newProgress returns nil, which is silent, unless talk is a terminal.
func newProgress(talk io.Writer) *progress {
	file, ok := talk.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return nil
	}
	return &progress{talk: talk, start: time.Now()}
}

// update tells how many bytes are read, of how many; 0 when that is not known.
func (p *progress) update(done, total int64) {
	if p == nil || time.Since(p.start) < quiet {
		return
	}
	if p.bar == nil {
		if total == 0 {
			total = -1
		}
		p.bar = progressbar.NewOptions64(total, progressbar.OptionSetWriter(p.talk), progressbar.OptionSetDescription("reading"),
			progressbar.OptionShowBytes(true), progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(30))
	}
	p.bar.Set64(done) // a bar that cannot be drawn is no reason to stop
}

// clear takes the bar away.
func (p *progress) clear() {
	if p != nil && p.bar != nil {
		p.bar.Clear()
	}
}
