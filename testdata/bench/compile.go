package main

import (
	_ "embed"
	"os"
	"os/exec"
	"path/filepath"
)

//go:embed plain/plain.c
var plainSource []byte

// buildPlain compiles the plain reader with the C compiler that is here; "" without one.
func buildPlain(dir string) string {
	cc, err := exec.LookPath("cc")
	if err != nil {
		return ""
	}
	source, program := filepath.Join(dir, "plain.c"), filepath.Join(dir, "plain")
	if os.WriteFile(source, plainSource, 0o600) != nil {
		return ""
	}
	if exec.Command(cc, "-O2", "-o", program, source, "-lm").Run() != nil {
		return ""
	}
	return program
}
