package halfedge_test

import (
	"slices"
	"testing"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/solids"
)

func one(int) float64 { return 1 }

// A closed surface is one patch a shell. Facets turned against the first one are told,
// and counted by their area; here each facet counts 1.
func TestPatchesTellTurnedFacets(t *testing.T) {
	for _, b := range inOrder() {
		facets := slices.Clone(b.triangles)
		turned := 0
		for i := 1; i < len(facets)/b.shells; i += 3 {
			facets[i][0], facets[i][1] = facets[i][1], facets[i][0]
			turned++
		}
		p, strip := halfedge.NewSurvey(facets, b.vertices).FindPatches(one)
		if strip != -1 || p == nil || len(p.All) != b.shells {
			t.Fatalf("%s: patches %v, strip %d", b.name, p, strip)
		}
		if first := p.All[0]; int(first.TurnedArea) != turned || int(first.Area) != b.facets/b.shells || len(first.Facets) != b.facets/b.shells {
			t.Errorf("%s: %g of %g turned, want %d of %d", b.name, first.TurnedArea, first.Area, turned, b.facets/b.shells)
		}
		for f := range facets {
			if want := f < len(facets)/b.shells && f%3 == 1; p.Turned[f] != want {
				t.Fatalf("%s: facet %d turned: %v", b.name, f, p.Turned[f])
			}
		}
	}
}

// No way leads across an edge of three facets or more, nor over degenerate facets.
func TestPatchesEndAtEdgesOfMany(t *testing.T) {
	for n := int32(3); n < 6; n++ {
		facets := append(fan(n), [3]int32{0, 0, 1})
		p, strip := halfedge.NewSurvey(facets, int(n)+2).FindPatches(one)
		if strip != -1 || len(p.All) != int(n) || p.Of[n] != -1 {
			t.Fatalf("a fan of %d: %d patches, strip %d, the degenerate facet in %d", n, len(p.All), strip, p.Of[n])
		}
		for f := range n {
			if p.Of[f] != f || p.All[f].Area != 1 {
				t.Errorf("a fan of %d: facet %d is in patch %d", n, f, p.Of[f])
			}
		}
	}
}

// A Moebius strip has one side, whichever way its facets are turned; a band of the same
// make without the half turn has two.
func TestPatchesFindTheStripWithOneSide(t *testing.T) {
	strip, n := numbered(solids.Moebius())
	for seed := range uint64(8) {
		facets := shuffled(strip, seed)
		for i := range facets {
			if seed>>(i%3)&1 == 1 {
				facets[i][0], facets[i][1] = facets[i][1], facets[i][0]
			}
		}
		p, at := halfedge.NewSurvey(facets, n).FindPatches(one)
		if p != nil || at < 0 || int(at) >= len(facets) {
			t.Errorf("seed %d: %v at %d", seed, p, at)
		}
	}
	if p, at := halfedge.NewSurvey(openPrism(9), 18).FindPatches(one); at != -1 || len(p.All) != 1 {
		t.Errorf("a band has one side at %d", at)
	}
}

// The patch round a facet is what edges of two facets connect, and bent are the facets
// beside an edge that both run one way: none in a sound box, a turned facet and its three
// neighbours beside another box.
func TestPatchAround(t *testing.T) {
	facets, vertices := numbered(solids.Join(solids.Cube(0, 1), solids.Cube(3, 1)))
	all, bent := halfedge.NewSurvey(facets, vertices).PatchAround(5)
	if len(all) != 12 || slices.Max(all) != 11 || len(bent) != 0 {
		t.Errorf("%v, bent %v", all, bent)
	}
	facets[5][0], facets[5][1] = facets[5][1], facets[5][0]
	all, bent = halfedge.NewSurvey(facets, vertices).PatchAround(0)
	if len(all) != 12 || len(bent) != 4 || !slices.Contains(bent, 5) {
		t.Errorf("%v, bent %v", all, bent)
	}
}
