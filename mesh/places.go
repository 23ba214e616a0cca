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
	m := f.table.m
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
	m := f.table.m
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

// facetProblems names degenerate, flat and repeated facets; flat are those with
// their corners on one line.
func (f *finder) facetProblems(flat []int32) {
	if f.table.degenerate > 0 {
		f.add(DegenerateFacet, f.table.degenerate, f.degeneratePlaces())
	}
	var places []Place
	for _, t := range flat[:min(len(flat), maxPlaces)] {
		a, b, c := f.table.m.Corners(int(t))
		places = append(places, Place{
			Facet: int(t), At: a,
			Text: fmt.Sprintf("corners on one line within %.2g mm: %s, %s, %s",
				f.table.m.heightOf(int(t)), point(a), point(b), point(c)),
		})
	}
	f.add(ZeroAreaFacet, len(flat), places)
	if f.duplicate > 0 {
		f.add(DuplicateFacet, f.duplicate, f.duplicatePlaces())
	}
}

func (f *finder) degeneratePlaces() []Place {
	var places []Place
	for t, tri := range f.table.m.Triangles {
		if !isDegenerate(tri) {
			continue
		}
		a, b, c := f.table.m.Corners(t)
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
	m := f.table.m
	var places []Place
	f.table.eachEdge(0, len(m.Vertices), func(_ int32, uses []use) {
		for i, u := range uses {
			e, found := f.table.repeated(uses[:i], u)
			if !found || len(places) == maxPlaces {
				continue
			}
			later := max(u.half().facet(), e.half().facet())
			earlier := min(u.half().facet(), e.half().facet())
			turned := ""
			if u.backward() != e.backward() {
				turned = ", the other way round"
			}
			at, _, _ := m.Corners(int(later))
			places = append(places, Place{
				Facet: int(later), At: at,
				Text: fmt.Sprintf("same corners as facet %d%s, at %s", earlier+1, turned, point(at)),
			})
		}
	})
	return places
}

// shellProblems names shells that are inside out, and counts voids.
func (f *finder) shellProblems() {
	m := f.table.m
	shells := f.shells()
	negative, void := m.voids(shells)
	f.report.Voids = len(void)
	isVoid := map[int]bool{}
	for _, i := range void {
		isVoid[i] = true
	}
	var places []Place
	for _, i := range negative {
		if isVoid[i] || len(places) == maxPlaces {
			continue
		}
		first := int(shells[i].Triangles[0])
		at, _, _ := m.Corners(first)
		places = append(places, Place{
			Facet: first, At: at,
			Text: fmt.Sprintf("shell of %d facets, %.6g mm^3, at %s",
				len(shells[i].Triangles), shells[i].VolumeMM3, point(at)),
		})
	}
	f.add(InsideOutShell, len(negative)-len(void), places)
}

// point writes a place the way people read one.
func point(p r3.Vector) string { return fmt.Sprintf("(%.6g, %.6g, %.6g)", p.X, p.Y, p.Z) }
