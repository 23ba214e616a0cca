package main

import (
	"bytes"
	"context"
	"errors"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

const (
	limitTime = 20 * time.Second
	limitMiB  = 1024.0
	// reserveKiB is where the system itself stops a process that asks for more and
	// more. A Go program reserves far more addresses than it uses, so the limit proper is
	// on what it holds, see outcome.peakMiB.
	reserveKiB = "6000000"
)

// outcome is how one run of the program ended.
type outcome struct {
	status  int // exit status, -1 for a signal
	panicky bool
	hung    bool
	seconds float64
	peakMiB float64
	stdout  []byte
	stderr  string
}

// run starts the program under its limits.
func run(ctx context.Context, program string, args ...string) (outcome, error) {
	ctx, cancel := context.WithTimeout(ctx, limitTime)
	defer cancel()
	c := exec.CommandContext(ctx, "sh", append([]string{"-c", "ulimit -v " + reserveKiB + `; exec "$0" "$@"`, program}, args...)...)
	var stdout, stderr bytes.Buffer
	c.Stdout, c.Stderr = &stdout, &stderr
	start := time.Now()
	err := c.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return outcome{}, err
	}
	o := outcome{status: c.ProcessState.ExitCode(), seconds: time.Since(start).Seconds(), stdout: stdout.Bytes(), stderr: stderr.String()}
	if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		o.peakMiB = float64(u.Maxrss) / 1024
	}
	o.hung = ctx.Err() != nil
	for _, sign := range []string{"panic:", "fatal error:", "goroutine ", "runtime error"} {
		o.panicky = o.panicky || strings.Contains(o.stderr, sign)
	}
	return o, nil
}
