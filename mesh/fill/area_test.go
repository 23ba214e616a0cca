package fill

import (
	"math"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// Two boxes sunk into each other: the union's area by counting faces. 4x4x4 at the
// origin and 4x4x4 moved by (2,2,2): each loses the three 2x2 corners of its faces
// inside the other.
func TestFillAreaOfSunkBoxes(t *testing.T) {
	two := append(boxAt(0, 0, 0, 4), boxAt(2, 2, 2, 4)...)
	fill, err := Volume(t.Context(), mesh.New(two))
	if err != nil {
		t.Fatal(err)
	}
	if want := 2*6*16.0 - 6*4; math.Abs(fill.AreaMM2-want) > 1e-9*want {
		t.Errorf("area %.12g, want %g", fill.AreaMM2, want)
	}
	if want := 2*64.0 - 8; math.Abs(fill.VolumeMM3-want) > 1e-9*want {
		t.Errorf("volume %.12g, want %g", fill.VolumeMM3, want)
	}
}

func boxAt(x, y, z, edge float64) []r3.Vector {
	low := r3.Vector{X: x, Y: y, Z: z}
	return solids.Box(low, low.Add(r3.Vector{X: edge, Y: edge, Z: edge}))
}
