package halfedge_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"bellyline/mesh/halfedge"
)

// tangled are facets at random among few vertices: degenerate ones, edges of many
// facets, repeats.
var tangled = rapid.Custom(func(t *rapid.T) [][3]int32 {
	v := rapid.Int32Range(0, int32(rapid.IntRange(1, 12).Draw(t, "last vertex")))
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) [3]int32 {
		return [3]int32{v.Draw(t, "a"), v.Draw(t, "b"), v.Draw(t, "c")}
	}), 0, 60).Draw(t, "facets")
})

const tangledVertices = 13

// runs are the half-edges at each edge, forward ones first, both in the order of the
// facets: what a table holds, found with a map.
type runs struct{ forward, backward []int32 } // sides, three a facet

func runsOf(triangles [][3]int32) map[[2]int32]*runs {
	all := map[[2]int32]*runs{}
	for f, tri := range triangles {
		if halfedge.IsDegenerate(tri) {
			continue
		}
		for k := range 3 {
			a, b := tri[k], tri[(k+1)%3]
			key := [2]int32{min(a, b), max(a, b)}
			if all[key] == nil {
				all[key] = &runs{}
			}
			side := int32(3*f + k)
			if a < b {
				all[key].forward = append(all[key].forward, side)
			} else {
				all[key].backward = append(all[key].backward, side)
			}
		}
	}
	return all
}

func TestTableAgainstAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		triangles := tangled.Draw(t, "surface")
		want := runsOf(triangles)
		table := halfedge.NewTable(triangles, tangledVertices)
		seen, at := 0, [2]int32{-1, -1}
		table.EachEdge(0, tangledVertices, func(v int32, uses []halfedge.Use) {
			key := [2]int32{v, uses[0].Other()}
			if slices.Compare(key[:], at[:]) <= 0 {
				t.Fatalf("edge %v after %v", key, at)
			}
			at = key
			seen++
			var got runs
			for _, u := range uses {
				h := u.Half()
				tri, side := triangles[h.Facet()], 3*h.Facet()+int32(h.Corner())
				if u.Backward() {
					got.backward = append(got.backward, side)
				} else {
					got.forward = append(got.forward, side)
				}
				tip := table.Opposite(u)
				if !halfedge.HasCorner(tri, tip) || tip == key[0] || tip == key[1] {
					t.Fatalf("edge %v of facet %v: %d is opposite", key, tri, tip)
				}
			}
			if w := want[key]; w == nil || !slices.Equal(got.forward, w.forward) || !slices.Equal(got.backward, w.backward) {
				t.Fatalf("edge %v: %v, want %v", key, got, w)
			}
			if halfedge.Forward(uses) != len(got.forward) || halfedge.Balanced(uses) != (len(got.forward) == len(got.backward)) {
				t.Fatalf("edge %v: %d forward", key, halfedge.Forward(uses))
			}
		})
		if seen != len(want) {
			t.Fatalf("%d edges, want %d", seen, len(want))
		}
	})
}

// The survey's counts and the balance, from the same map.
func TestSurveyAgainstAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		triangles := tangled.Draw(t, "surface")
		var want halfedge.Counts
		for _, r := range runsOf(triangles) {
			n := len(r.forward) + len(r.backward)
			switch {
			case n%2 == 1:
				want.Boundary++
			case len(r.forward) != len(r.backward):
				want.Misoriented++
			}
			if n > 2 {
				want.Nonmanifold++
			}
		}
		known := map[[3]int32]bool{}
		for _, tri := range triangles {
			if halfedge.IsDegenerate(tri) {
				continue
			}
			slices.Sort(tri[:])
			if known[tri] {
				want.Duplicate++
			}
			known[tri] = true
		}
		if got := halfedge.NewSurvey(triangles, tangledVertices).Counts; got != want {
			t.Fatalf("%+v, want %+v", got, want)
		}
		balanced := true
		for _, r := range runsOf(triangles) {
			balanced = balanced && len(r.forward) == len(r.backward)
		}
		if halfedge.AllBalanced(triangles) != balanced {
			t.Fatalf("balanced: %v", !balanced)
		}
	})
}
