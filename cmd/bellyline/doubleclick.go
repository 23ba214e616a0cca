package main

import "os"

// arguments are those of the command line. A program that was started by a double
// click has none, or the one file that was dropped on its picture: then the bench is
// what its user wants to see.
func arguments(args []string, doubleClicked bool) []string {
	switch {
	case !doubleClicked:
		return args
	case len(args) == 0:
		return []string{"bench"}
	case len(args) == 1:
		if info, err := os.Stat(args[0]); err == nil && info.Mode().IsRegular() {
			return []string{"bench", args[0]}
		}
	}
	return args
}
