package mesh

import (
	"fmt"

	"github.com/golang/geo/r3"
)

// finder adds problems, with the places where they are, to a report.
type finder struct {
	*survey
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
	if f.boundary > 0 {
		f.add(BoundaryEdge, f.boundary, f.loopPlaces())
	}
	if f.misoriented > 0 {
		f.add(MisorientedEdge, f.misoriented, f.edgePlaces(func(uses []use) string {
			if len(uses)%2 != 0 || balanced(uses) {
				return ""
			}
			return fmt.Sprintf("is run %d times one way, %d the other", forward(uses), len(uses)-forward(uses))
		}))
	}
	if f.nonmanifold > 0 {
		f.add(NonmanifoldEdge, f.nonmanifold, f.edgePlaces(func(uses []use) string {
			if len(uses) < 3 {
				return ""
			}
			return fmt.Sprintf("is shared by %d facets", len(uses))
		}))
	}
}

// edgePlaces names the first edges of which wrong has something to say.
func (f *finder) edgePlaces(wrong func(uses []use) string) []Place {
	m := f.m
	var places []Place
	for from := 0; from < len(m.Vertices) && len(places) < maxPlaces; from += surveyBlock {
		f.table.eachEdge(from, min(from+surveyBlock, len(m.Vertices)), func(v int32, uses []use) {
			text := wrong(uses)
			if text == "" || len(places) == maxPlaces {
				return
			}
			a, b := m.Vertices[v], m.Vertices[uses[0].other()]
			places = append(places, Place{
				Facet: int(uses[0].half().facet()),
				At:    a.Add(b).Mul(0.5),
				Text:  fmt.Sprintf("edge from %s to %s %s", point(a), point(b), text),
			})
		})
	}
	return places
}

// loopPlaces names the first boundary loops.
func (f *finder) loopPlaces() []Place {
	m := f.m
	edges := f.boundaryEdges()
	var places []Place
	for _, loop := range chainLoops(edges) {
		if len(places) == maxPlaces {
			break
		}
		vertices := make([]int32, len(loop))
		for i, step := range loop {
			vertices[i] = step.vertex
		}
		at := m.Vertices[vertices[0]]
		places = append(places, Place{
			Facet: int(edges[loop[0].edge].facet),
			At:    at,
			Text: fmt.Sprintf("open along %d edges, %.4g mm round, from %s",
				len(loop), m.LoopLengthMM(vertices), point(at)),
		})
	}
	return places
}

// facetProblems names degenerate, thin and repeated facets; thin are those with
// their corners on one line.
func (f *finder) facetProblems(thin []int32) {
	if f.degenerate > 0 {
		f.add(DegenerateFacet, f.degenerate, f.degeneratePlaces())
	}
	var places []Place
	for _, t := range thin[:min(len(thin), maxPlaces)] {
		a, b, c := f.m.Corners(int(t))
		places = append(places, Place{
			Facet: int(t), At: a,
			Text: fmt.Sprintf("corners on one line within %.2g mm: %s, %s, %s",
				f.m.heightOf(t), point(a), point(b), point(c)),
		})
	}
	f.add(ZeroAreaFacet, len(thin), places)
	if f.duplicate > 0 {
		f.add(DuplicateFacet, f.duplicate, f.duplicatePlaces())
	}
}

func (f *finder) degeneratePlaces() []Place {
	var places []Place
	for t, tri := range f.m.Triangles {
		if !isDegenerate(tri) {
			continue
		}
		a, b, c := f.m.Corners(t)
		text := fmt.Sprintf("two corners are equal: %s, %s, %s", point(a), point(b), point(c))
		if a == b && b == c {
			text = "all corners are equal: " + point(a)
		}
		places = append(places, Place{Facet: t, At: a, Text: text})
		if len(places) == maxPlaces {
			break
		}
	}
	return places
}

func (f *finder) duplicatePlaces() []Place {
	m := f.m
	var places []Place
	f.table.eachEdge(0, len(m.Vertices), func(_ int32, uses []use) {
		f.table.eachRepeat(uses, func(a, b use) {
			if len(places) == maxPlaces {
				return
			}
			earlier, later := min(a.half().facet(), b.half().facet()), max(a.half().facet(), b.half().facet())
			turned := ""
			if a.backward() != b.backward() {
				turned = ", the other way round"
			}
			at, _, _ := m.Corners(int(later))
			places = append(places, Place{
				Facet: int(later), At: at,
				Text: fmt.Sprintf("same corners as facet %d%s, at %s", earlier+1, turned, point(at)),
			})
		})
	})
	return places
}

// shellProblems names shells that are inside out, and counts voids.
func (f *finder) shellProblems() {
	m := f.m
	shells := f.shells()
	insideOut, voids := m.facingIn(shells)
	f.report.Voids = voids
	var places []Place
	for _, i := range insideOut[:min(len(insideOut), maxPlaces)] {
		first := int(shells[i].Triangles[0])
		at, _, _ := m.Corners(first)
		places = append(places, Place{
			Facet: first, At: at,
			Text: fmt.Sprintf("shell of %d facets, %.6g mm^3, at %s",
				len(shells[i].Triangles), shells[i].VolumeMM3, point(at)),
		})
	}
	f.add(InsideOutShell, len(insideOut), places)
}

// point writes a place the way people read one.
func point(p r3.Vector) string { return fmt.Sprintf("(%.6g, %.6g, %.6g)", p.X, p.Y, p.Z) }
