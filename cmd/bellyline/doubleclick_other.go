//go:build !windows

package main

// isDoubleClicked is false: elsewhere a program that was clicked has no console to
// tell by, and none to print to.
func isDoubleClicked() bool { return false }
