//go:build !linux

package main

import "os"

// peakMiB is not known on this system.
func peakMiB(*os.ProcessState) float64 { return 0 }
