package layout

import (
	"cmp"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/vector"
)

// Thin is a connected piece of skin that is thinner than a limit.
type Thin struct {
	What       string     `json:"what"` // does not fill | tears when it is pulled
	LimitMM    float64    `json:"limit_mm"`
	ThinnestMM float64    `json:"thinnest_mm"` // a tenth of it is thinner
	AreaMM2    float64    `json:"area_mm2"`
	AtMM       [3]float64 `json:"at_mm"`           // the facet of middle thickness
	Where      string     `json:"where"`           // tail, left, low
	Shell      int        `json:"shell,omitempty"` // of the model as drawn, from 1; the caller says so where there are several
}

const (
	// leastFeature is the share of the skin from which on a thin piece is named.
	leastFeature = 0.002
	// mostFeatures are named for each limit.
	mostFeatures = 5
	// thinnestOf a feature is what a tenth of it is thinner than: its rim runs out to
	// nothing wherever it has an edge.
	thinnestOf = 0.1
)

// featureFinder gathers thin facets into connected pieces.
type featureFinder struct {
	m     *mesh.Mesh
	list  []place // from thin to thick
	total float64
	where where
}

// under returns the pieces under a limit, the largest first. Facets that share a
// corner belong together.
func (f featureFinder) under(limit float64, what string) []Thin {
	var thin []place
	for _, p := range f.list {
		if p.mm < limit {
			thin = append(thin, p)
		}
	}
	parent := make(map[int32]int32, 3*len(thin))
	root := func(v int32) int32 {
		for {
			up, ok := parent[v]
			if !ok || up == v {
				return v
			}
			if next, ok := parent[up]; ok {
				parent[v] = next
			}
			v = up
		}
	}
	for _, p := range thin {
		t := f.m.Triangles[p.facet]
		for _, v := range t[1:] {
			if a, b := root(t[0]), root(v); a != b {
				parent[max(a, b)] = min(a, b)
			}
		}
	}
	pieces := map[int32][]place{}
	for _, p := range thin {
		r := root(f.m.Triangles[p.facet][0])
		pieces[r] = append(pieces[r], p)
	}
	var found []Thin
	for _, piece := range pieces {
		if t := f.feature(piece); t.AreaMM2 > leastFeature*f.total {
			t.What, t.LimitMM = what, limit
			found = append(found, t)
		}
	}
	slices.SortFunc(found, func(a, b Thin) int {
		return cmp.Or(cmp.Compare(b.AreaMM2, a.AreaMM2), cmp.Compare(a.AtMM[0], b.AtMM[0]), cmp.Compare(a.AtMM[1], b.AtMM[1]))
	})
	return found[:min(len(found), mostFeatures)]
}

// feature sums a piece up.
func (f featureFinder) feature(piece []place) Thin {
	var t Thin
	for _, p := range piece {
		t.AreaMM2 += p.area
	}
	sum, tenth := 0.0, false
	for _, p := range piece {
		sum += p.area
		if !tenth && sum >= thinnestOf*t.AreaMM2 {
			t.ThinnestMM, tenth = p.mm, true
		}
		if sum >= t.AreaMM2/2 {
			t.AtMM = middleOf(f.m, p.facet)
			break
		}
	}
	t.Where = f.where.of(t.AtMM)
	return t
}

// where names places of a bait in words.
type where struct{ axes [3]axis }

type axis struct {
	dir       r3.Vector
	low, high float64
	words     [3]string // the low third, the middle, the high third
}

func newWhere(m *mesh.Mesh, back, nose r3.Vector) where {
	left := back.Cross(nose)
	var w where
	for i, a := range []struct {
		dir   r3.Vector
		words [3]string
	}{{nose, [3]string{"tail", "middle", "nose"}}, {left, [3]string{"right", "", "left"}}, {back, [3]string{"belly side", "", "back side"}}} {
		dir := a.dir.Normalize()
		low, high := m.Span(dir)
		w.axes[i] = axis{dir: dir, low: low, high: high, words: a.words}
	}
	return w
}

func (w where) of(at [3]float64) string {
	var words []string
	for _, a := range w.axes {
		third := 1
		if a.high > a.low {
			third = min(max(int(3*(vector.Of(at).Dot(a.dir)-a.low)/(a.high-a.low)), 0), 2)
		}
		if word := a.words[third]; word != "" {
			words = append(words, word)
		}
	}
	return strings.Join(words, ", ")
}
