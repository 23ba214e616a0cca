package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// startBench runs the command until the test ends and returns the page's address.
func startBench(t *testing.T, args ...string) string {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	in, out := io.Pipe()
	ended := make(chan int, 1)
	go func() { ended <- run(ctx, append([]string{"bench", "--no-browser"}, args...), out, io.Discard) }()
	t.Cleanup(func() {
		stop()
		if code := <-ended; code != exitDone {
			t.Errorf("an interrupted bench ends with %d, want %d", code, exitDone)
		}
	})
	line, err := bufio.NewReader(in).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	go io.Copy(io.Discard, in)
	return strings.TrimSpace(line)
}

func TestBenchPrintsItsAddress(t *testing.T) {
	at := startBench(t, example("weighed.yaml"))
	if !strings.HasPrefix(at, "http://127.0.0.1:") || !strings.HasSuffix(at, "/") {
		t.Errorf("address %q", at)
	}
	response, err := http.Get(at)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	if response.StatusCode != http.StatusOK {
		t.Errorf("status %d", response.StatusCode)
	}
	if at := startBench(t, "--json"); at != "{" {
		t.Errorf("with --json the first line is %q", at)
	}
}

// A double click opens the bench, with the file that was dropped on the program's
// picture; a terminal gets what it asks for.
func TestDoubleClick(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bait.stl")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, one := range []struct {
		args    []string
		clicked bool
		want    []string
	}{
		{nil, true, []string{"bench"}},
		{nil, false, nil},
		{[]string{file}, true, []string{"bench", file}},
		{[]string{file}, false, []string{file}},
		{[]string{"measure"}, true, []string{"measure"}},
		{[]string{"pour", file}, true, []string{"pour", file}},
	} {
		if got := arguments(one.args, one.clicked); !slices.Equal(got, one.want) {
			t.Errorf("arguments %q, double click %t: %q, want %q", one.args, one.clicked, got, one.want)
		}
	}
}
