package stl

import (
	"bytes"
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// FuzzRead checks that any bytes are either refused with a reason or read into a
// mesh that keeps its promises, twice the same.
func FuzzRead(f *testing.F) {
	for _, bad := range badFiles() {
		if len(bad.data) < 1<<16 {
			f.Add(bad.data)
		}
	}
	for _, odd := range oddFiles() {
		if len(odd.data) < 1<<16 {
			f.Add(odd.data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkRead(t, data) })
}

// checkRead reads data and checks what holds of every input.
func checkRead(t *testing.T, data []byte) {
	model, err := Read(context.Background(), bytes.NewReader(data), ReadOptions{})
	if err != nil {
		var format *FormatError
		if !errors.As(err, &format) || format.Msg == "" || format.Unwrap() == nil {
			t.Fatalf("refused without a reason: %v", err)
		}
		if place := format.Byte; place < 0 || place > int64(len(data)) {
			t.Fatalf("the fault is outside of the file: %v", err)
		}
		return
	}
	checkPromises(t, model)
	// A facet takes 50 bytes at least as binary, 66 as text.
	if n := len(model.Mesh.Triangles); n > len(data)/facetBytes {
		t.Fatalf("%d facets from %d bytes", n, len(data))
	}
	again, err := Read(context.Background(), bytes.NewReader(data), ReadOptions{})
	if err != nil {
		t.Fatalf("refused when read again: %v", err)
	}
	if diff := cmp.Diff(model, again); diff != "" {
		t.Fatalf("another model when read again:\n%s", diff)
	}
}

// checkPromises checks what doc.go, Mesh and Read say of every mesh.
func checkPromises(t *testing.T, model *Model) {
	t.Helper()
	m := model.Mesh
	if len(m.Triangles) == 0 || len(model.Solids) == 0 {
		t.Fatalf("read %d facets, %d solids", len(m.Triangles), len(model.Solids))
	}
	for v, p := range m.Vertices {
		for _, x := range [...]float64{p.X, p.Y, p.Z} {
			if !(math.Abs(x) <= largestCoordinate) || x == 0 && math.Signbit(x) {
				t.Fatalf("vertex %d is %v", v, p)
			}
		}
	}
	next := int32(0) // vertices are numbered in the order of their first use
	for f, tri := range m.Triangles {
		for _, v := range tri {
			if v < 0 || v > next || int(v) >= len(m.Vertices) {
				t.Fatalf("facet %d has vertex %d before vertex %d", f, v, next)
			}
			next = max(next, v+1)
		}
	}
	if int(next) != len(m.Vertices) {
		t.Fatalf("%d of %d vertices are used", next, len(m.Vertices))
	}
}

// Headers that promise more than the file holds must not be believed: memory is
// in proportion to what is there.
func TestReadMemory(t *testing.T) {
	for name, data := range map[string][]byte{
		"count beyond memory":  binarySTL("", math.MaxUint32, tetrahedron),
		"second count as well": glue(binarySTL("", 4, tetrahedron), binarySTL("", math.MaxUint32, tetrahedron)),
		"plain":                binarySTL("", 4, tetrahedron),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Read(context.Background(), bytes.NewReader(data), ReadOptions{})
		runtime.ReadMemStats(&after)
		// Blocks for the input and its sample take some megabytes whatever the file.
		if took := after.TotalAlloc - before.TotalAlloc; took > 8<<20 {
			t.Errorf("%s: %d bytes for a file of %d (%v)", name, took, len(data), err)
		}
	}
}
