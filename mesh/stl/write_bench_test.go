package stl

import (
	"bytes"
	"context"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// BenchmarkWrite is to be compared with BenchmarkReadRipple: both move the same
// facets.
func BenchmarkWrite(b *testing.B) {
	m := mesh.New(solids.Ripple(1000))
	var file bytes.Buffer
	for b.Loop() {
		file.Reset()
		if err := Write(&file, "ripple", m); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadRipple(b *testing.B) {
	var file bytes.Buffer
	if err := Write(&file, "ripple", mesh.New(solids.Ripple(1000))); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Read(context.Background(), bytes.NewReader(file.Bytes()), ReadOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
