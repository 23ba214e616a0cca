// Package fill measures closed surfaces whose shells overlap: what they fill is where
// the winding number is 1 or more, counted once. Facets that cross are arranged exactly
// on a lattice.
package fill

import (
	"context"
	"errors"
	"fmt"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/parallel"
)

// Fill says what fills a closed surface of one shell or many when overlaps fill
// once: all points with a winding number of 1 or more.
//
// The winding number of a point is how many outward shells it is inside of, less
// the inward ones. So two bodies sunk into each other fill their union, a body that
// crosses itself fills once where it is double, and an inward shell inside an
// outward one is a void. An inward shell where two bodies overlap is no void: one
// body is left there.
type Fill struct {
	SignedMM3  float64 // sum over shells, voids subtracted: every point counted as often as its winding number says
	VolumeMM3  float64 // where the winding number is 1 or more
	OverlapMM3 float64 // what SignedMM3 counts more than once: for each k > 1, the volume where the winding number is k or more
	// NegativeMM3 is what SignedMM3 subtracts where nothing is: for each k < 0, the
	// volume where the winding number is k or less. Little folds have that; whether
	// they are full is anybody's guess, so it is in ErrorMM3 too.
	NegativeMM3 float64
	// AreaMM2 is the area of the skin of what fills: of the parts of facets with
	// nothing outside.
	AreaMM2 float64
	// ErrorMM3 bounds the error of VolumeMM3 against the exact value for the
	// coordinates of the mesh. Where no facets cross it is rounding only.
	ErrorMM3  float64
	Exact     bool      // by the arrangement of the facets, not by sampling: always, so far
	Crossings int       // pairs of facets that go through each other, beyond doubt; touching does not count
	Overlaps  []Overlap // where the overlap is, the largest first, at most 5
}

// Overlap is a place where a surface encloses something more than once.
type Overlap struct {
	VolumeMM3 float64 // counted once too often, more often for a winding number over 2
	Box       mesh.Box
	Facet     int     // index of a facet inside or at the edge of it
	skinMM2   float64 // of the parts of facets round it
	alone     bool    // it is whole shells that cross nothing
}

// Errors of Volume besides ErrNotClosed, for errors.Is.
var (
	// ErrInsideOut is wrapped when a surface, or a part of it worth speaking of, is
	// the wrong way out: the winding number is negative there.
	ErrInsideOut = errors.New("surface is inside out")
	// ErrWinding is wrapped when no winding number can be given to the space beside
	// some facets.
	ErrWinding = errors.New("winding numbers disagree")
)

// negativeShare is how much of the whole may have a negative winding number before
// there is no answer. Scanned and sculpted bodies have folds in which it is -1; a
// void that breaks through the skin of a body leaves much more.
const negativeShare = 1e-4

// seeds is how many lattices are tried: that corners stay on one plane on one of
// them is rare to begin with.
const seeds = 8

// Volume returns what fills the surface.
//
// It refuses, wrapping ErrNotClosed, if some edge is not run as often one way as
// the other; ErrInsideOut, if a shell that crosses nothing is inside out and no void,
// or more than a ten-thousandth of the whole has a negative winding number; ErrWinding, if facets cross in a way that closed surfaces cannot;
// ctx.Err(), if ctx ends. A clean shell costs a search for facets that cross, in
// proportion to the facets; only facets that cross cost more.
//
// To tell faces apart that lie on one plane, corners are moved by up to 2^-39 of
// half the longest side of the box; ErrorMM3 includes what that can do.
func Volume(ctx context.Context, m *mesh.Mesh) (Fill, error) {
	if len(m.Triangles) == 0 {
		return Fill{Exact: true}, nil
	}
	if !m.Balanced() {
		return Fill{}, mesh.ErrNotClosed
	}
	return fillVolume(ctx, m, m.Bounds(), signedVolumeOf(m), false)
}

// VolumeChecked is Volume for a mesh whose check and moments are at hand,
// which saves a third of the time that a clean mesh takes.
func VolumeChecked(ctx context.Context, m *mesh.Mesh, report *mesh.Report, moments mesh.Moments) (Fill, error) {
	if len(m.Triangles) == 0 {
		return Fill{Exact: true}, nil
	}
	if !report.Oriented {
		return Fill{}, mesh.ErrNotClosed
	}
	signed := signedVolume{moments.VolumeMM3, moments.RoundingMM3, moments.AreaMM2}
	return fillVolume(ctx, m, moments.Bounds, signed, report.Shells == 1 && report.Count(mesh.NonmanifoldEdge) == 0)
}

// fillVolume is Volume of a balanced mesh with its bounds. whole says that it is
// known to be one shell whose edges are used twice.
func fillVolume(ctx context.Context, m *mesh.Mesh, box mesh.Box, signed signedVolume, whole bool) (Fill, error) {
	t, doubt, err := doubtfulTree(ctx, m, lattice.New(box, 0), box)
	for seed := uint64(0); err == nil && seed < seeds; seed++ {
		var fill Fill
		fill, err = fillOn(ctx, t, lattice.New(box, seed), doubt, signed, whole)
		if !errors.Is(err, lattice.ErrFlat) {
			return fill, err
		}
		err = nil
	}
	if err != nil {
		return Fill{}, err
	}
	if bare, kept := withoutFolds(m); len(kept) < len(m.Triangles) {
		fill, err := fillVolume(ctx, bare, box, signed, false)
		for i := range fill.Overlaps {
			fill.Overlaps[i].Facet = int(kept[fill.Overlaps[i].Facet])
		}
		return fill, err
	}
	return Fill{}, fmt.Errorf("%w: %w", ErrWinding, lattice.ErrFlat)
}

// fillOn is Volume on one lattice.
func fillOn(ctx context.Context, t *bvh.Tree, l lattice.Lattice, doubt doubtful, signed signedVolume, whole bool) (Fill, error) {
	crossing, err := anyCrossing(ctx, t, doubt, &welded{t.Mesh, l})
	switch {
	case err != nil:
		return Fill{}, err
	case !crossing && (whole || !pinched(t, doubt) && connected(t.Mesh)):
		return signed.oneShell()
	}
	s := newSurface(t.Mesh, l)
	found, err := findCrossings(ctx, t, doubt, s)
	if err != nil {
		return Fill{}, err
	}
	wound, err := wind(ctx, t, s, found)
	if err != nil {
		if errors.Is(err, lattice.ErrFlat) || ctx.Err() != nil {
			return Fill{}, err
		}
		return Fill{}, fmt.Errorf("%w: %w", ErrWinding, err)
	}
	fill, err := wound.fill(signed)
	fill.Crossings = len(realCrossingsOf(t.Mesh, l, found.hits))
	return fill, err
}

// wind arranges the facets that cross and finds all winding numbers.
func wind(ctx context.Context, t *bvh.Tree, s *surface, found crossings) (*flood, error) {
	p, err := newPiercings(s, found.hits)
	if err != nil {
		return nil, err
	}
	a, err := newArrangement(ctx, p)
	if err != nil {
		return nil, err
	}
	return newFlood(ctx, a, t)
}

// oneShell returns the fill of a single shell that does not cross itself.
func (v signedVolume) oneShell() (Fill, error) {
	if v.volumeMM3 < -v.errorMM3 {
		return Fill{}, fmt.Errorf("%w: it encloses %.6g mm^3", ErrInsideOut, v.volumeMM3)
	}
	return Fill{SignedMM3: v.volumeMM3, VolumeMM3: v.volumeMM3, AreaMM2: v.areaMM2, ErrorMM3: v.errorMM3, Exact: true}, nil
}

// fill adds up what is counted too often and what is subtracted from nothing.
func (fl *flood) fill(signed signedVolume) (Fill, error) {
	over := fl.enclosures(func(outside int) bool { return outside >= 1 })
	under := fl.enclosures(func(outside int) bool { return outside <= -1 })
	f := Fill{SignedMM3: signed.volumeMM3, AreaMM2: signed.areaMM2, ErrorMM3: signed.errorMM3, Exact: true}
	bound := 0.0
	if len(fl.seams) > 0 || len(over) > 0 || len(under) > 0 {
		bound = signed.movedMM3(fl.s.lattice)
	}
	// What is below the bound may as well be nothing. Leaving it out is one error of
	// that size, the bound itself another.
	f.ErrorMM3 += 2 * bound
	for _, o := range over {
		f.OverlapMM3 += o.VolumeMM3
		f.AreaMM2 -= o.skinMM2
	}
	for _, u := range under {
		f.NegativeMM3 -= u.VolumeMM3
		f.AreaMM2 -= u.skinMM2
	}
	if f.OverlapMM3 <= bound {
		f.OverlapMM3 = 0
	}
	if f.NegativeMM3 <= bound {
		f.NegativeMM3 = 0
	}
	f.VolumeMM3 = f.SignedMM3 - f.OverlapMM3 + f.NegativeMM3
	f.ErrorMM3 += f.NegativeMM3
	for _, u := range under {
		if u.alone && -u.VolumeMM3 > bound {
			return Fill{}, fmt.Errorf("%w: a shell of %.4g mm^3 at facet %d, %s",
				ErrInsideOut, u.VolumeMM3, u.Facet+1, mesh.PlaceText(u.Box.Centre()))
		}
	}
	if f.NegativeMM3 > negativeShare*f.VolumeMM3 {
		return Fill{}, fmt.Errorf("%w: %.4g mm^3 has a negative winding number, at facet %d, %s",
			ErrInsideOut, f.NegativeMM3, under[0].Facet+1, mesh.PlaceText(under[0].Box.Centre()))
	}
	for _, o := range over {
		if o.VolumeMM3 > bound && len(f.Overlaps) < mesh.MaxPlaces {
			f.Overlaps = append(f.Overlaps, o)
		}
	}
	return f, nil
}

// connected says whether all facets are joined by corners.
func connected(m *mesh.Mesh) bool {
	sets := halfedge.NewSets(len(m.Vertices))
	parallel.Blocks(len(m.Triangles), bvh.Block, func(_, from, to int) {
		for _, t := range m.Triangles[from:to] {
			if !halfedge.IsDegenerate(t) {
				sets.Join(t[0], t[1])
				sets.Join(t[0], t[2])
			}
		}
	})
	root := int32(-1)
	for _, t := range m.Triangles {
		if halfedge.IsDegenerate(t) {
			continue
		}
		r := sets.Root(t[0])
		if root >= 0 && r != root {
			return false
		}
		root = r
	}
	return true
}
