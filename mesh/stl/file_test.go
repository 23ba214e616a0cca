package stl

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
)

func writeTemp(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestReadFileIsRead(t *testing.T) {
	for _, odd := range oddFiles() {
		fromFile, err := ReadFile(context.Background(), writeTemp(t, "bait.stl", odd.data), ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		fromStream, err := Read(context.Background(), iotest.HalfReader(bytes.NewReader(odd.data)), ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(fromFile, fromStream); diff != "" {
			t.Errorf("%s (- file, + stream):\n%s", odd.name, diff)
		}
	}
}

func TestReadFileNamesTheFile(t *testing.T) {
	path := writeTemp(t, "bait.stl", binarySTL("", 5, tetrahedron))
	_, err := ReadFile(context.Background(), path, ReadOptions{})
	want := path + ": byte 80: the header promises 5 facets, the file holds 4; the file was cut short or its count is wrong: copy or export it again"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	missing := filepath.Join(t.TempDir(), "none.stl")
	if _, err := ReadFile(context.Background(), missing, ReadOptions{}); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), missing) {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, err := ReadFile(context.Background(), t.TempDir(), ReadOptions{}); err == nil || !strings.Contains(err.Error(), "is a directory") {
		t.Errorf("a folder: %v", err)
	}
}

func TestReadStandardInput(t *testing.T) {
	old := os.Stdin
	defer func() { os.Stdin = old }()
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	os.Stdin = in
	go func() {
		out.Write(binarySTL("", 5, tetrahedron)) //nolint:errcheck // the reader's error is tested
		out.Close()
	}()
	_, err = ReadFile(context.Background(), "-", ReadOptions{})
	want := "standard input: byte 80: the header promises 5 facets, the file holds 4; the file was cut short or its count is wrong: copy or export it again"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func TestReadStops(t *testing.T) {
	in, out := io.Pipe() // from which nothing ever comes
	defer out.Close()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, in, ReadOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a read that hangs: %v", err)
	}
	for _, data := range [][]byte{binarySTL("", 4, tetrahedron), []byte(textSTL("t", tetrahedron))} {
		path := writeTemp(t, "bait.stl", data)
		if _, err := ReadFile(ctx, path, ReadOptions{}); !errors.Is(err, context.Canceled) {
			t.Errorf("an ended context: %v", err)
		}
	}
}

// A context that ends in the middle of a file ends the reading.
func TestReadStopsMidway(t *testing.T) {
	facets := tangle(workerBytes/facetBytes*5, 5_000)
	for _, data := range [][]byte{binarySTL("", uint32(len(facets)), facets), []byte(textSTL("t", facets))} {
		path := writeTemp(t, "bait.stl", data)
		ctx, cancel := context.WithCancel(context.Background())
		_, err := ReadFile(ctx, path, ReadOptions{Progress: func(_, _ int64) { cancel() }})
		if want := path + ": context canceled"; !errors.Is(err, context.Canceled) || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

// Standard input that is a file is read from where it stands.
func TestReadStandardInputFromFile(t *testing.T) {
	old := os.Stdin
	defer func() { os.Stdin = old }()
	var err error
	if os.Stdin, err = os.Open(writeTemp(t, "two", []byte("a line\n"+textSTL("t", tetrahedron)))); err != nil {
		t.Fatal(err)
	}
	defer os.Stdin.Close()
	if _, err := os.Stdin.Seek(int64(len("a line\n")), io.SeekStart); err != nil {
		t.Fatal(err)
	}
	model, err := ReadFile(context.Background(), "-", ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(model.Mesh.Triangles) != 4 {
		t.Errorf("%d facets, want 4", len(model.Mesh.Triangles))
	}
}

// The reader's own error comes through, also one that looks like an end.
func TestReadPassesErrorsOn(t *testing.T) {
	for _, want := range []error{iotest.ErrTimeout, io.ErrUnexpectedEOF} {
		r := io.MultiReader(bytes.NewReader(binarySTL("", 4, tetrahedron)), iotest.ErrReader(want))
		if _, err := Read(context.Background(), r, ReadOptions{}); !errors.Is(err, want) {
			t.Errorf("got %v, want %v", err, want)
		}
	}
}

func TestReadTellsProgress(t *testing.T) {
	for _, data := range [][]byte{binarySTL("", 4, tetrahedron), []byte(textSTL("t", tetrahedron))} {
		path := writeTemp(t, "bait.stl", data)
		var done, total int64
		opts := ReadOptions{Progress: func(d, n int64) {
			if d < done {
				t.Errorf("went back from %d to %d", done, d)
			}
			done, total = d, n
		}}
		if _, err := ReadFile(context.Background(), path, opts); err != nil {
			t.Fatal(err)
		}
		if total != int64(len(data)) || done > total || done < total-frontBytes {
			t.Errorf("told %d of %d, the file has %d", done, total, len(data))
		}
	}
}

func TestReadRefusesUnits(t *testing.T) {
	for _, unit := range []Unit{-1, Unit(nan()), Unit(inf())} {
		if _, err := Read(context.Background(), bytes.NewReader(binarySTL("", 4, tetrahedron)), ReadOptions{Unit: unit}); err == nil {
			t.Errorf("read with a unit of %v mm", float64(unit))
		}
	}
}
