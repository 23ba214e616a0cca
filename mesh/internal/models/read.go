// Package models reads the real models of the manifest for tests.
package models

import (
	"context"
	"errors"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/stl"
)

// Each calls f with every model of the manifest that can be read.
func Each(t *testing.T, f func(t *testing.T, want manifest.Model, m *mesh.Mesh)) {
	read := 0
	for _, want := range manifest.Models(t) {
		got, err := stl.ReadFile(context.Background(), want.Path(t), stl.ReadOptions{})
		if errors.Is(err, stl.ErrCount) || errors.Is(err, stl.ErrMangled) {
			continue // broken files: the reader's tests are about them
		}
		if err != nil {
			t.Fatal(err)
		}
		read++
		t.Run(want["file"], func(t *testing.T) { f(t, want, got.Mesh) })
	}
	if read == 0 {
		t.Fatal("no model could be read")
	}
}
