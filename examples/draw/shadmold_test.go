package main

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/mesh"
)

// The halves are closed blocks of the size drawn, whose hollows are what was cut
// out: four cavities and a runner that hang together, two pin and two bolt holes.
func TestHalvesHoldWhatWasCutOut(t *testing.T) {
	network := shads().draw(2).finish()
	inside, _, err := network.CutSolids(mesh.Plane{Normal: r3.Vector{X: 1}, HeightMM: moldLength})
	if err != nil {
		t.Fatal(err)
	}
	cut, err := inside.Cut(mesh.Plane{Normal: r3.Vector{Z: 1}})
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range halves() {
		t.Run(m.path, func(t *testing.T) {
			h, err := hollow.Open(t.Context(), "../"+m.path, cavity.Options{}, hollow.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for k, want := range [3]float64{2 * moldLength, 2 * moldWidth, moldThick} {
				if h.BlockMM[k] != want {
					t.Errorf("the block measures %g mm, want %g", h.BlockMM[k], want)
				}
			}
			count := map[hollow.Kind]int{}
			for _, o := range h.Hollows {
				count[o.Kind]++
			}
			if count[hollow.Cavity] != 4 || count[hollow.Runner] != 1 || count[hollow.Hole] != 4 {
				t.Errorf("found %v", count)
			}
			if len(h.Alike) != 1 || len(h.Connected) != 1 {
				t.Fatalf("alike %v, connected %v", h.Alike, h.Connected)
			}
			// The corners of the cut at the side were put on the grid: a strip of the side
			// opening's outline wide by half a step.
			want := []float64{cut.Below.VolumeMM3, cut.Above.VolumeMM3}[i]
			if got := h.Connected[0].VolumeMM3; math.Abs(got-want) > 0.01 {
				t.Errorf("they hold %.6f mm3, %.6f were cut out", got, want)
			}
		})
	}
}

func TestShadNetworkIsClosedAndLeavesTheMold(t *testing.T) {
	m := shads().draw(2).finish()
	wantClosed(t, m)
	for f := range m.Triangles {
		a, b, c := m.Corners(f)
		low, high := min(a.Z, b.Z, c.Z), max(a.Z, b.Z, c.Z)
		facing := b.Sub(a).Cross(c.Sub(a)).Z
		if low < 0 && high > 0 || (high > 0 && facing <= 0) || (low < 0 && facing >= 0) {
			t.Fatalf("facet %d at %v is undercut", f+1, a)
		}
	}
}
