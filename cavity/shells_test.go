package cavity

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// Two blocks, the second standing in the first.
func sunkBlocks() []r3.Vector {
	return solids.Join(solids.Block(80, 12.5, 10), solids.Move(solids.Block(20, 30, 7), r3.Vector{X: 10, Y: -5, Z: 5}))
}

// Places of the solid are found again in the shells of the file.
func TestShellAt(t *testing.T) {
	c, err := Open(t.Context(), written(t, sunkBlocks()), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	for at, want := range map[r3.Vector]int{{X: 80, Y: 6, Z: 5}: 1, {X: 20, Y: 25, Z: 8}: 2, {X: 40, Y: 6}: 1, {X: 20, Y: 10, Z: 12}: 2} {
		if got := c.ShellAt(at); got != want {
			t.Errorf("%v lies on shell %d, want %d", at, got, want)
		}
	}
}
