package main

import (
	"os"
	"syscall"
)

// peakMiB is the largest resident size of a finished process.
func peakMiB(s *os.ProcessState) float64 {
	if u, ok := s.SysUsage().(*syscall.Rusage); ok {
		return float64(u.Maxrss) / 1024
	}
	return 0
}
