//go:build unix

package main

import (
	"fmt"
	"os/exec"
	"slices"
	"syscall"
	"time"
)

// interruptSteps is at how many places of a run it is interrupted.
const interruptSteps = 12

// timeInterrupts interrupts our program at places spread over a run of the given
// length, and prints how long it takes to end.
func timeInterrupts(p pair, run time.Duration) error {
	var waits []time.Duration
	for step := range interruptSteps {
		cmd := exec.Command(p.args[0], p.args[1:]...)
		if err := cmd.Start(); err != nil {
			return err
		}
		time.Sleep(run * time.Duration(step+1) / (interruptSteps + 2))
		sent := time.Now()
		if cmd.Process.Signal(syscall.SIGINT) != nil {
			continue // it was done already
		}
		if cmd.Wait() != nil { // it did not get to its end
			waits = append(waits, time.Since(sent))
		}
	}
	if len(waits) == 0 {
		fmt.Println("  no run was slow enough to be interrupted")
		return nil
	}
	slices.Sort(waits)
	fmt.Printf("  interrupted at %d places of %q: ends after %.0f ms (median), %.0f ms (longest)\n", len(waits), p.name,
		ms(waits[len(waits)/2]), ms(waits[len(waits)-1]))
	return nil
}

func ms(d time.Duration) float64 { return d.Seconds() * 1000 }
