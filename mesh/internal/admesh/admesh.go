// Package admesh has tests ask the admesh program about files.
package admesh

import (
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"testing"
)

// Find returns the path of the admesh program; without one the test is
// skipped, except where CI=true promises that nothing is skipped.
func Find(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("admesh")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("admesh is not installed")
		}
		t.Skip("admesh is not installed")
	}
	return path
}

var disconnected = regexp.MustCompile(`Total disconnected facets\s*:\s*(\d+)`)

// Disconnected returns how many facets admesh finds without a neighbour.
func Disconnected(t *testing.T, program, file string) int {
	t.Helper()
	out, err := exec.Command(program, "--exact", file).CombinedOutput()
	if err != nil {
		t.Fatalf("admesh: %v\n%s", err, out)
	}
	found := disconnected.FindSubmatch(out)
	if found == nil {
		t.Fatalf("admesh does not say how many facets are disconnected:\n%s", out)
	}
	n, err := strconv.Atoi(string(found[1]))
	if err != nil {
		t.Fatal(err)
	}
	return n
}
