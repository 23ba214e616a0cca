package mend

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// problemsOf lists what a report found wrong.
func problemsOf(r *mesh.Report) string { return fmt.Sprintf("%+v", r.Problems) }

// kindsOf is mends without places and volumes.
func kindsOf(mends []Mend) string {
	var kinds []string
	for _, mend := range mends {
		kinds = append(kinds, fmt.Sprintf("%s %d", mend.Kind, mend.Count))
	}
	return strings.Join(kinds, ", ")
}

// openOf adds up what mends may have done to the volume.
func openOf(mends []Mend) float64 {
	var open float64
	for _, mend := range mends {
		open += mend.VolumeMM3
	}
	return open
}

// without leaves out facets.
func without(corners []r3.Vector, facets ...int) []r3.Vector {
	var left []r3.Vector
	for f := range len(corners) / 3 {
		if !slices.Contains(facets, f) {
			left = append(left, corners[3*f:3*f+3]...)
		}
	}
	return left
}

// flipped turns facets over.
func flipped(corners []r3.Vector, facets ...int) []r3.Vector {
	out := slices.Clone(corners)
	for _, f := range facets {
		out[3*f+1], out[3*f+2] = out[3*f+2], out[3*f+1]
	}
	return out
}

// facetsWhere lists the facets all of whose corners are so.
func facetsWhere(corners []r3.Vector, so func(p r3.Vector) bool) []int {
	var found []int
	for f := range len(corners) / 3 {
		if so(corners[3*f]) && so(corners[3*f+1]) && so(corners[3*f+2]) {
			found = append(found, f)
		}
	}
	return found
}

// Every kind of defect, put into a body of known volume. The counts are by hand,
// the volume is that of the body before it was damaged.
func TestMendEachKind(t *testing.T) {
	box := solids.Cube(0, 10)
	facet := func(f int) []r3.Vector { return box[3*f : 3*f+3] }
	a, b, c := facet(0)[0], facet(0)[1], facet(0)[2]
	// The grid of a box: sides cut into 4 x 4 x 2 facets.
	fine := solids.Subdivide(solids.Subdivide(box))
	top := facetsWhere(fine, func(p r3.Vector) bool { return p.Z == 10 })
	window := facetsWhere(fine, func(p r3.Vector) bool { return p.Z == 10 && p.X >= 2.5 && p.X <= 7.5 && p.Y >= 2.5 && p.Y <= 5 })
	if len(window) != 4 || len(top) != 32 {
		t.Fatalf("%d facets in the window, %d on top", len(window), len(top))
	}
	cone := solids.Lathe(coneProfile(5, 10, 8), 24)
	tip := facetsWhere(cone, func(p r3.Vector) bool { return p.Z >= 8.74 })
	sphere := solids.Sphere(10, 48)
	pole := facetsWhere(sphere, func(p r3.Vector) bool { return p.Z >= 9.5 })
	torus := solids.Torus(20, 6, 96, 48)
	bore := latheWithBore()
	boreTop := facetsWhere(bore, func(p r3.Vector) bool { return p.Z == 6 })
	void := solids.Flip(solids.Cube(3, 2))
	for name, test := range map[string]struct {
		broken []r3.Vector
		whole  []r3.Vector
		mends  string
		allow  bool // whether it needs to be allowed
	}{
		"two equal corners":      {solids.Join(box, []r3.Vector{a, a, b}, []r3.Vector{c, c, c}), box, "degenerate_facet 2", false},
		"a facet twice":          {solids.Join(box, facet(0)), box, "duplicate_facet 1", false},
		"a facet four times":     {solids.Join(box, facet(0), facet(0), facet(0)), box, "duplicate_facet 3", false},
		"a facet over and back":  {solids.Join(box, facet(0), solids.Flip(facet(0))), box, "duplicate_facet 2", false},
		"a facet and its back":   {solids.Join(box, solids.Flip(facet(0))), box, "duplicate_facet 1", false},
		"the back and its facet": {solids.Join(solids.Flip(facet(0)), box), box, "duplicate_facet 1", false},
		"a patch twice":          {solids.Join(fine, fine[:3*20]), fine, "duplicate_facet 20", false},
		"a patch thrice, mixed":  {solids.Join(fine, fine[3*40:3*70], solids.Flip(fine[3*50:3*70])), fine, "duplicate_facet 50", false},
		"a stray sheet of two": {solids.Join(box, facet(3), solids.Flip(facet(3)),
			solids.Move(solids.Join(facet(0), solids.Flip(facet(0))), r3.Vector{Z: 3})), box, "duplicate_facet 4", false},
		"a stray sliver": {solids.Join(box, []r3.Vector{a, solids.Middle(a, b), b}), box, "zero_area_facet 1", false},
		"slivers in a row": {solids.Join(box, []r3.Vector{a, solids.Middle(a, c), c}, []r3.Vector{a, c, solids.Middle(a, solids.Middle(a, c))}),
			box, "zero_area_facet 2", false},
		"T-joint":             {solids.Join(box[3:], solids.Split(a, b, c)), box, "t_joint 1", false},
		"T-joints on a side":  {solids.Join(box[3:], cutSide(a, b, c, 7)), box, "t_joint 6", false},
		"T-joints both sides": {solids.Join(box[6:], cutSide(a, b, c, 3), cutSide(facet(1)[0], facet(1)[1], facet(1)[2], 2)), box, "t_joint 3", false},
		"a facet flipped":     {flipped(box, 5), box, "flipped_facet 1", true},
		"many flipped":        {flipped(fine, 1, 2, 3, 17, 30, 31, 60, 100, 101), fine, "flipped_facet 9", true},
		"most flipped":        {solids.Flip(flipped(box, 5, 6)), box, "flipped_facet 10", true},
		"inside out":          {solids.Flip(box), box, "inside_out_shell 1", false},
		"one of two boxes inside out": {solids.Join(box, solids.Move(solids.Flip(box), r3.Vector{X: 20})),
			solids.Join(box, solids.Move(box, r3.Vector{X: 20})), "inside_out_shell 1", true},
		"all inside out, a void too": {solids.Flip(solids.Join(box, void)), solids.Join(box, void), "inside_out_shell 2", true},
		"only the outside inside out": {solids.Join(solids.Flip(box), void), solids.Join(box, void),
			"inside_out_shell 1", true},
		"a void with a facet flipped":   {solids.Join(box, flipped(void, 7)), solids.Join(box, void), "flipped_facet 1", true},
		"facet missing":                 {box[3:], box, "hole 1", true},
		"lid missing":                   {without(fine, top...), box, "hole 1", true},
		"a window":                      {without(fine, window...), box, "hole 1", true},
		"two facets missing, touching":  {without(sphere, 500, 502), sphere, "hole 2", true},
		"cone without its tip":          {without(cone, tip...), cone, "hole 1", true},
		"sphere without a pole":         {without(sphere, pole...), sphere, "hole 1", true},
		"a facet of a saddle":           {without(torus, 24*96), torus, "hole 1", true},
		"a patch of a torus":            {without(torus, 24*96, 24*96+1, 24*96+2, 24*96+3), torus, "hole 1", true},
		"face with a bore missing":      {without(bore, boreTop...), bore, "hole 2", true},
		"lid missing, rest inside out":  {solids.Flip(without(fine, top...)), box, "hole 1, inside_out_shell 1", true},
		"facet missing, others flipped": {flipped(without(fine, 0), 3, 50), box, "hole 1, flipped_facet 2", true},
		"all at once": {solids.Join(flipped(without(fine, window...), 0), fine[:3], []r3.Vector{a, a, c},
			solids.Move(solids.Flip(box), r3.Vector{Y: 30})),
			solids.Join(box, solids.Move(box, r3.Vector{Y: 30})),
			"degenerate_facet 1, duplicate_facet 1, hole 1, inside_out_shell 1", true},
	} {
		t.Run(name, func(t *testing.T) {
			m := mesh.New(test.broken)
			before := &mesh.Mesh{Vertices: slices.Clone(m.Vertices), Triangles: slices.Clone(m.Triangles)}
			got, mends, err := Surface(context.Background(), m, Options{})
			if !test.allow && err != nil {
				t.Fatal(err)
			}
			if test.allow && (!errors.Is(err, ErrNeeded) || got != nil || !strings.Contains(err.Error(), "(")) {
				t.Fatalf("not allowed: %v", err)
			}
			got, allowed, err := Surface(context.Background(), m, Options{Allow: true})
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(mends, allowed) {
				t.Errorf("asked for\n%+v, done\n%+v", mends, allowed)
			}
			if kindsOf(mends) != test.mends {
				t.Errorf("mends %s, want %s", kindsOf(mends), test.mends)
			}
			checkMended(t, m, got, mends)
			want := mesh.New(test.whole).Moments().VolumeMM3
			if off := math.Abs(got.Moments().VolumeMM3 - want); off > openOf(mends)+1e-12*want {
				t.Errorf("volume %.12g, want %.12g, off by %g, bound %g", got.Moments().VolumeMM3, want, off, openOf(mends))
			}
			if !reflect.DeepEqual(m, before) {
				t.Error("the given mesh was changed")
			}
		})
	}
}

// checkMended checks what Mend promises of every result.
func checkMended(t tester, given, got *mesh.Mesh, mends []Mend) {
	t.Helper()
	r := got.Check()
	if !r.Closed || !r.Oriented || r.Count(mesh.InsideOutShell) != 0 || r.Count(mesh.DegenerateFacet) != 0 && len(mends) > 0 {
		t.Errorf("mended, and still %s", problemsOf(r))
	}
	if len(mends) == 0 && got != given {
		t.Error("another mesh without a mend")
	}
	seen := map[Kind]bool{}
	for _, mend := range mends {
		if mend.Count < 1 || len(mend.Places) < 1 || len(mend.Places) > min(mend.Count, mesh.MaxPlaces) || !(mend.VolumeMM3 >= 0) || seen[mend.Kind] {
			t.Errorf("mend %+v", mend)
		}
		seen[mend.Kind] = true
		for _, p := range mend.Places {
			if p.Facet < -1 || p.Facet >= len(given.Triangles) || p.Text == "" {
				t.Errorf("place %+v of %s", p, mend.Kind)
			}
		}
	}
	used := make([]bool, len(got.Vertices))
	for _, f := range got.Triangles {
		for _, v := range f {
			used[v] = true
		}
	}
	if slices.Contains(used, false) && len(mends) > 0 {
		t.Error("a vertex is left that no facet uses")
	}
}

// cutSide is the facet a b c with the side a b cut into n parts.
func cutSide(a, b, c r3.Vector, n int) []r3.Vector {
	at := func(i int) r3.Vector {
		if i == n {
			return b
		}
		return a.Add(b.Sub(a).Mul(float64(i) / float64(n)))
	}
	var out []r3.Vector
	for i := range n {
		out = append(out, at(i), at(i+1), c)
	}
	return out
}

// coneProfile is a cone from its base at z = 0, in so many equal bands.
func coneProfile(radius, height float64, bands int) []r2.Point {
	p := []r2.Point{{}}
	for i := range bands + 1 {
		p = append(p, r2.Point{X: radius * float64(bands-i) / float64(bands), Y: height * float64(i) / float64(bands)})
	}
	return p
}

// latheWithBore is a plate 6 high, 10 in radius, with a bore of radius 4.
func latheWithBore() []r3.Vector {
	return solids.Lathe([]r2.Point{{X: 4}, {X: 10}, {X: 10, Y: 6}, {X: 4, Y: 6}, {X: 4}}, 24)
}

// tester is what tests and properties have in common.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
	Error(args ...any)
}
