package mesh

import (
	"fmt"

	"bellyline/mesh/halfedge"

	"github.com/golang/geo/r3"
)

// finder adds problems, with the places where they are, to a report.
type finder struct {
	*halfedge.Survey
	m      *Mesh
	report *Report
}

func (f *finder) add(kind ProblemKind, count int, places []Place) {
	if count > 0 {
		f.report.Problems = append(f.report.Problems, Problem{Kind: kind, Count: count, Places: places})
	}
}

// edgeProblems looks through the edges again, but only if some of them are wrong,
// and only as far as the places go.
func (f *finder) edgeProblems() {
	if f.Boundary > 0 {
		f.add(BoundaryEdge, f.Boundary, f.loopPlaces())
	}
	if f.Misoriented > 0 {
		f.add(MisorientedEdge, f.Misoriented, f.edgePlaces(func(uses []halfedge.Use) string {
			if len(uses)%2 != 0 || halfedge.Balanced(uses) {
				return ""
			}
			return fmt.Sprintf("is run %d times one way, %d the other", halfedge.Forward(uses), len(uses)-halfedge.Forward(uses))
		}))
	}
	if f.Nonmanifold > 0 {
		f.add(NonmanifoldEdge, f.Nonmanifold, f.edgePlaces(func(uses []halfedge.Use) string {
			if len(uses) < 3 {
				return ""
			}
			return fmt.Sprintf("is shared by %d facets", len(uses))
		}))
	}
}

// edgePlaces names the first edges of which wrong has something to say.
func (f *finder) edgePlaces(wrong func(uses []halfedge.Use) string) []Place {
	m := f.m
	var places []Place
	for from := 0; from < len(m.Vertices) && len(places) < MaxPlaces; from += halfedge.Block {
		f.Table.EachEdge(from, min(from+halfedge.Block, len(m.Vertices)), func(v int32, uses []halfedge.Use) {
			text := wrong(uses)
			if text == "" || len(places) == MaxPlaces {
				return
			}
			a, b := m.Vertices[v], m.Vertices[uses[0].Other()]
			places = append(places, Place{
				Facet: int(uses[0].Half().Facet()),
				At:    a.Add(b).Mul(0.5),
				Text:  fmt.Sprintf("edge from %s to %s %s", PlaceText(a), PlaceText(b), text),
			})
		})
	}
	return places
}

// loopPlaces names the first boundary loops.
func (f *finder) loopPlaces() []Place {
	m := f.m
	edges := f.BoundaryEdges()
	var places []Place
	for _, loop := range halfedge.ChainLoops(edges) {
		if len(places) == MaxPlaces {
			break
		}
		vertices := make([]int32, len(loop))
		for i, step := range loop {
			vertices[i] = step.Vertex
		}
		at := m.Vertices[vertices[0]]
		places = append(places, Place{
			Facet: int(edges[loop[0].Edge].Facet),
			At:    at,
			Text: fmt.Sprintf("open along %d edges, %.4g mm round, from %s",
				len(loop), m.LoopLengthMM(vertices), PlaceText(at)),
		})
	}
	return places
}

// facetProblems names degenerate, thin and repeated facets; thin are those with
// their corners on one line.
func (f *finder) facetProblems(thin []int32) {
	if f.Degenerate > 0 {
		f.add(DegenerateFacet, f.Degenerate, f.degeneratePlaces())
	}
	var places []Place
	for _, t := range thin[:min(len(thin), MaxPlaces)] {
		a, b, c := f.m.Corners(int(t))
		places = append(places, Place{
			Facet: int(t), At: a,
			Text: fmt.Sprintf("corners on one line within %.2g mm: %s, %s, %s",
				f.m.HeightOf(t), PlaceText(a), PlaceText(b), PlaceText(c)),
		})
	}
	f.add(ZeroAreaFacet, len(thin), places)
	if f.Duplicate > 0 {
		f.add(DuplicateFacet, f.Duplicate, f.duplicatePlaces())
	}
}

func (f *finder) degeneratePlaces() []Place {
	var places []Place
	for t, tri := range f.m.Triangles {
		if !halfedge.IsDegenerate(tri) {
			continue
		}
		a, b, c := f.m.Corners(t)
		text := fmt.Sprintf("two corners are equal: %s, %s, %s", PlaceText(a), PlaceText(b), PlaceText(c))
		if a == b && b == c {
			text = "all corners are equal: " + PlaceText(a)
		}
		places = append(places, Place{Facet: t, At: a, Text: text})
		if len(places) == MaxPlaces {
			break
		}
	}
	return places
}

func (f *finder) duplicatePlaces() []Place {
	m := f.m
	var places []Place
	f.Table.EachEdge(0, len(m.Vertices), func(_ int32, uses []halfedge.Use) {
		f.Table.EachRepeat(uses, func(a, b halfedge.Use) {
			if len(places) == MaxPlaces {
				return
			}
			earlier, later := min(a.Half().Facet(), b.Half().Facet()), max(a.Half().Facet(), b.Half().Facet())
			turned := ""
			if a.Backward() != b.Backward() {
				turned = ", the other way round"
			}
			at, _, _ := m.Corners(int(later))
			places = append(places, Place{
				Facet: int(later), At: at,
				Text: fmt.Sprintf("same corners as facet %d%s, at %s", earlier+1, turned, PlaceText(at)),
			})
		})
	})
	return places
}

// shellProblems names shells that are inside out, and counts voids.
func (f *finder) shellProblems() {
	m := f.m
	shells := m.shellsOf(f.Survey)
	insideOut, voids := m.facingIn(shells)
	f.report.Voids = voids
	var places []Place
	for _, i := range insideOut[:min(len(insideOut), MaxPlaces)] {
		first := int(shells[i].Triangles[0])
		at, _, _ := m.Corners(first)
		places = append(places, Place{
			Facet: first, At: at,
			Text: fmt.Sprintf("shell of %d facets, %.6g mm^3, at %s",
				len(shells[i].Triangles), shells[i].VolumeMM3, PlaceText(at)),
		})
	}
	f.add(InsideOutShell, len(insideOut), places)
}

// PlaceText writes a place the way people read one.
func PlaceText(p r3.Vector) string { return fmt.Sprintf("(%.6g, %.6g, %.6g)", p.X, p.Y, p.Z) }
