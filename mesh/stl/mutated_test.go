package stl

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Thousands of small files with something wrong: never a panic, and what is read
// keeps its promises.
func TestReadMutatedFiles(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	whole := [][]byte{
		binarySTL("t", 4, tetrahedron),
		[]byte(textSTL("t", tetrahedron)),
		glue(binarySTL("solid", 4, tetrahedron), binarySTL("", 4, tetrahedron)),
		[]byte(textSTL("t", tetrahedron) + textSTL("", tetrahedron)),
	}
	for range 1000 {
		for _, data := range whole {
			checkRead(t, mutate(random, data))
		}
	}
}

// mutate returns data with a few faults.
func mutate(random *rand.Rand, data []byte) []byte {
	data = bytes.Clone(data)
	for range 1 + random.IntN(3) {
		if len(data) == 0 {
			return data
		}
		at := random.IntN(len(data))
		end := min(len(data), at+random.IntN(100))
		switch random.IntN(5) {
		case 0:
			data = data[:at]
		case 1:
			data[at] ^= 1 << random.IntN(8)
		case 2:
			data = slices.Delete(data, at, end)
		case 3:
			data = slices.Insert(data, at, bytes.Clone(data[at:end])...)
		case 4:
			slices.Reverse(data[at:end])
		}
	}
	return data
}

// A text file is split at lines that begin with "facet". Whatever stands there,
// several workers read what one reads, and refuse with the same words.
func TestReadSplitsTextRightly(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	facets := tangle(4*workerBytes/200, 500)
	text := textSTL("t", facets)
	lines := strings.SplitAfter(text, "\n")
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for k, put := range []string{
		"", "facet", "facet normal\n", "\nfacet normal 0 0 1\n", "endsolid\nsolid\nfacet ", "endsolid t\nsolid facet\n",
		"endsolid\nsolid a\nendsolid\nsolid b\n", "solid\n", "vertex 1 2 3\n", "junk\n", "nan ", strings.Repeat(" ", 1<<17), strings.Repeat("x", 1<<17),
	} {
		for range 5 {
			at := len(lines)/4 - 60 + random.IntN(120) // near where the second of four begins
			file := []byte(strings.Join(lines[:at], "") + put + strings.Join(lines[at:], ""))
			name := fmt.Sprintf("%d: %.40q before line %d", k, put, at+1)
			runtime.GOMAXPROCS(1)
			want, wantErr := Read(context.Background(), bytes.NewReader(file), ReadOptions{})
			runtime.GOMAXPROCS(4)
			got, gotErr := Read(context.Background(), bytes.NewReader(file), ReadOptions{})
			if fmt.Sprint(wantErr) != fmt.Sprint(gotErr) {
				t.Fatalf("%s:\none worker   %v\nfour workers %v", name, wantErr, gotErr)
			}
			if wantErr != nil {
				continue
			}
			sameMesh(t, name, 4, got.Mesh, want.Mesh)
			if diff := cmp.Diff(want.Solids, got.Solids); diff != "" {
				t.Fatalf("%s: solids (- one worker, + four):\n%s", name, diff)
			}
			if diff := cmp.Diff(want.Notes, got.Notes); diff != "" {
				t.Fatalf("%s: notes (- one worker, + four):\n%s", name, diff)
			}
		}
	}
}
