package main

import (
	"context"
	"testing"
)

// A run that never looks at its context ends all the same, with the status of an
// input that got no answer; one that ends by itself keeps its status.
func TestInterruptEndsARun(t *testing.T) {
	ctx, interrupt := context.WithCancel(context.Background())
	started, forever := make(chan bool), make(chan bool)
	defer close(forever)
	go func() {
		<-started
		interrupt()
	}()
	deaf := func() int { close(started); <-forever; return exitDone }
	if got := untilInterrupted(ctx, deaf); got != exitNoAnswer {
		t.Errorf("an interrupted run ends with %d, want %d", got, exitNoAnswer)
	}
	if got := untilInterrupted(context.Background(), func() int { return exitUsage }); got != exitUsage {
		t.Errorf("a run that ended with %d is said to end with %d", exitUsage, got)
	}
}
