//go:build !unix

package main

import "time"

// timeInterrupts needs signals.
func timeInterrupts(pair, time.Duration) error { return nil }
