package halfedge_test

import (
	"testing"

	"pgregory.net/rapid"

	"bellyline/mesh/halfedge"
)

// On a closed surface each side has a twin, which is its twin's twin and runs the
// other way.
func TestTwinsOfClosedSurfaces(t *testing.T) {
	for _, b := range inOrder() {
		facets := shuffled(b.triangles, 1)
		twins := halfedge.Twins(facets, b.vertices)
		for side, twin := range twins {
			if twin == halfedge.None {
				t.Fatalf("%s: side %d has no twin", b.name, side)
			}
			f, g := facets[side/3], facets[twin/3]
			k, l := side%3, int(twin%3)
			if int(twins[twin]) != side || f[k] != g[halfedge.After(l)] || f[halfedge.After(k)] != g[l] {
				t.Fatalf("%s: sides %d and %d are no twins", b.name, side, twin)
			}
		}
	}
}

// Anywhere, the first forward run of an edge is paired with the first backward one,
// and so on; the rest and degenerate facets stay alone.
func TestTwinsAgainstAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		triangles := tangled.Draw(t, "surface")
		want := make([]int32, 3*len(triangles))
		for i := range want {
			want[i] = halfedge.None
		}
		for _, r := range runsOf(triangles) {
			for i := range min(len(r.forward), len(r.backward)) {
				want[r.forward[i]], want[r.backward[i]] = r.backward[i], r.forward[i]
			}
		}
		for side, twin := range halfedge.Twins(triangles, tangledVertices) {
			if twin != want[side] {
				t.Fatalf("side %d has twin %d, want %d", side, twin, want[side])
			}
		}
	})
}
