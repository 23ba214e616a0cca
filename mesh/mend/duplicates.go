package mend

import (
	"cmp"
	"slices"

	"bellyline/mesh/halfedge"
)

// coincident is all facets with the same three corners.
type coincident struct {
	facets []int32 // ascending
	turned []bool  // for each, whether it faces against the first
}

// net is how many face like the first more than against it.
func (c *coincident) net() int {
	n := 0
	for _, turned := range c.turned {
		if turned {
			n--
		} else {
			n++
		}
	}
	return n
}

// dropDuplicates removes facets that lie back to back, which together bound
// nothing, and surplus copies.
//
// Copies side by side are judged together, because a copied patch leaves open
// edges only along its rim: one copy is kept if that leaves fewer edges open than
// what is left after pairs back to back have gone, or as many and fewer edges
// misoriented. A shell that is there twice has no rim and stays: what it fills is
// not in doubt.
func (d *mender) dropDuplicates() error {
	s := d.survey()
	if s.Duplicate == 0 {
		return nil
	}
	groups := findCoincident(s)
	single := d.wantSingle(s, groups)
	var drop []int32
	for i := range groups {
		c := &groups[i]
		keep, turned := c.net(), false
		if keep < 0 {
			keep, turned = -keep, true
		}
		if facing, ok := single[int32(i)]; ok {
			keep, turned = 1, facing
		}
		for k, f := range c.facets {
			if c.turned[k] == turned && keep > 0 {
				keep--
				continue
			}
			drop = append(drop, f)
		}
	}
	slices.Sort(drop)
	d.drop(DuplicateFacet, drop, "another facet has the same corners, at %s")
	return nil
}

// findCoincident finds facets with the same corners, in the order of their edges.
func findCoincident(s *halfedge.Survey) []coincident {
	var groups []coincident
	var at []halfedge.Use
	s.Table.EachEdge(0, s.Vertices, func(_ int32, uses []halfedge.Use) {
		if len(uses) < 2 {
			return
		}
		at = at[:0]
		for _, u := range uses { // once a facet: at the edge of its two smallest corners
			if s.Table.Opposite(u) > u.Other() {
				at = append(at, u)
			}
		}
		slices.SortFunc(at, func(a, b halfedge.Use) int {
			return cmp.Or(cmp.Compare(s.Table.Opposite(a), s.Table.Opposite(b)),
				cmp.Compare(a.Half().Facet(), b.Half().Facet()))
		})
		for len(at) > 0 {
			n := 1
			for n < len(at) && s.Table.Opposite(at[n]) == s.Table.Opposite(at[0]) {
				n++
			}
			if n > 1 {
				var c coincident
				for _, u := range at[:n] {
					c.facets = append(c.facets, u.Half().Facet())
					c.turned = append(c.turned, u.Backward() != at[0].Backward())
				}
				groups = append(groups, c)
			}
			at = at[n:]
		}
	})
	return groups
}

// wantSingle says of which groups one facet is to be kept though their net count
// is another, and whether that one faces against the group's first.
func (d *mender) wantSingle(s *halfedge.Survey, groups []coincident) map[int32]bool {
	sets := halfedge.NewSets(len(groups))
	first := map[uint64]int32{}
	for i := range groups {
		if n := groups[i].net(); n == 1 || n == -1 {
			continue
		}
		for _, key := range edgeKeys(d.m, groups[i].facets[0]) {
			if _, seen := first[key]; !seen {
				first[key] = int32(i)
			}
			sets.Join(first[key], int32(i))
		}
	}
	tallies := talliesOf(s, keysOf(first))
	trial := make(map[uint64]tally, len(tallies))
	for key, t := range tallies {
		trial[key] = t
	}
	single := map[int32]bool{}
	for i := range groups {
		if n := groups[i].net(); n == 1 || n == -1 {
			continue
		}
		single[int32(i)] = d.keepOne(&groups[i], trial)
	}
	type gain struct{ open, crooked int }
	gains := map[int32]gain{}
	for key, before := range tallies {
		after, g := trial[key], gains[sets.Root(first[key])]
		g.open += before.uses()%2 - after.uses()%2
		g.crooked += max(before.net(), -before.net()) - max(after.net(), -after.net())
		gains[sets.Root(first[key])] = g
	}
	for i := range groups {
		if g := gains[sets.Root(int32(i))]; g.open < 0 || g.open == 0 && g.crooked <= 0 {
			delete(single, int32(i))
		}
	}
	return single
}

// keepOne leaves one facet of a group in the tallies of its edges, and returns
// whether it is one that faces against the first. Where as many face either way
// the one is kept that runs against more of its neighbours.
func (d *mender) keepOne(c *coincident, trial map[uint64]tally) bool {
	net := c.net()
	t := d.m.Triangles[c.facets[0]]
	against := 0 // of what the neighbours do, in the sense of the first
	for k := range 3 {
		key, sign := endsKey(t[k], t[halfedge.After(k)]), 1
		if t[k] > t[halfedge.After(k)] {
			sign = -1
		}
		e := trial[key]
		against += sign*e.net() - net
	}
	turned := net < 0 || net == 0 && against > 0
	same, other := 1, 0
	if turned {
		same, other = 0, 1
	}
	had := len(c.facets)
	hadOther := (had - net) / 2
	for k := range 3 {
		key := endsKey(t[k], t[halfedge.After(k)])
		e := trial[key]
		if t[k] < t[halfedge.After(k)] {
			e.forward += same - (had - hadOther)
			e.backward += other - hadOther
		} else {
			e.backward += same - (had - hadOther)
			e.forward += other - hadOther
		}
		trial[key] = e
	}
	return turned
}
