package mesh

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"bellyline/mesh/internal/halfedge"
)

// ErrNeedsMending is wrapped when a surface could be mended, but only by changes
// that its volume may depend on, and these were not allowed. Its text says what
// it would take and where.
var ErrNeedsMending = errors.New("the surface needs mending")

// ErrBeyondMending is wrapped when no rule here turns a surface into one that
// encloses a definite volume. Its text says what is in the way and where.
var ErrBeyondMending = errors.New("the surface cannot be mended")

// MendKind names what was mended with the usual term, in snake case.
type MendKind string

const (
	// MendDegenerateFacet removes a facet with two equal corners. Exact.
	MendDegenerateFacet MendKind = "degenerate_facet"
	// MendDuplicateFacet removes facets whose corners another facet has as well:
	// pairs that lie back to back, and copies that leave fewer edges open when they
	// go. Exact.
	MendDuplicateFacet MendKind = "duplicate_facet"
	// MendZeroAreaFacet removes facets thinner than half a float32 step that hang
	// on nothing: all their edges are open ones. Those that hold the surface
	// together stay.
	MendZeroAreaFacet MendKind = "zero_area_facet"
	// MendCrack welds a corner on an open edge to another one within the tolerance.
	MendCrack MendKind = "crack"
	// MendTJoint splits an open edge at a corner that lies on it within the
	// tolerance.
	MendTJoint MendKind = "t_joint"
	// MendFlippedFacet turns a facet that disagrees with its neighbours about what
	// is outside. Of a closed part only one way of facing is right, by its volume;
	// within another part the larger area decides.
	MendFlippedFacet MendKind = "flipped_facet"
	// MendHole closes a hole: a flat one of any size by a flat cap, any other one by
	// the cap of least area if it is not too large.
	MendHole MendKind = "hole"
	// MendInsideOutShell turns a closed part of negative volume that is no void.
	MendInsideOutShell MendKind = "inside_out_shell"
)

// Mend is all mends of one kind.
type Mend struct {
	Kind  MendKind
	Count int // facets, corners welded, corners put onto edges, holes or shells
	// Places names the first few. Facets are those of the mesh that was given.
	Places []Place
	// VolumeMM3 bounds how far these mends may leave the volume from that of the body
	// meant. What that assumes where something is missing is said at MendOptions.
	// Parts that are turned leave nothing open if they lie in no other part, since
	// then they can face in one way only; one within another part may be a void or
	// not, so it leaves twice its volume open.
	VolumeMM3 float64
	// MayChangeVolume says that the mend decides something which the surface as it
	// was left open, by more than the rounding of a file can.
	MayChangeVolume bool
}

// MendOptions says how far mending may go. The zero value does only what cannot
// change the volume by more than rounding.
//
// What a hole's cap can do to the volume is bounded under these assumptions,
// because what is missing cannot be known. A flat rim, walls steeper than
// steepWall: a flat face is missing. A flat rim, walls less steep: what is missing
// stays within twice the volume of the tip in which the facets round the rim
// would meet. A rim that is not flat: what is missing has at most twice the area
// of the cap (half a ball over its own rim has just that). A hole that is narrow
// beside the facets round it may as well come from corners out of place by its
// width.
type MendOptions struct {
	// Allow turns on mends that could change the volume by more than rounding.
	Allow bool
	// ToleranceMM is how far apart corners may be, or a corner from an edge, to be
	// taken for the same place, along open edges only. 0 stands for tolerancePart
	// of the size.
	ToleranceMM float64
	// HoleMM is the diagonal of the box of the largest hole that is closed though
	// its rim is not flat within the tolerance. 0 stands for holePart of the size.
	HoleMM float64
}

const (
	// tolerancePart is the default tolerance in parts of the size: ten times what
	// the reader takes for rounding, a thousandth of a millimetre on a bait.
	tolerancePart = 1e-5
	// holePart is the largest hole that is not flat, in parts of the size: a few
	// facets of a coarse model, the width of an eye.
	holePart = 0.05
)

// Mend returns the surface as a closed and consistently oriented one, and what
// was done to make it so, one entry a kind in the order of the work. A surface
// with nothing to mend comes back itself, with no mends; the given mesh is never
// changed.
//
// Without opts.Allow a mend that could change the volume by more than rounding is
// refused: the error wraps ErrNeedsMending, and the mends say what it would take.
// If even all mends together do not lead to a surface that encloses a definite
// volume, the error wraps ErrBeyondMending. Shells that overlap are left alone.
//
// It costs a handful of checks, more only where something is broken, and memory
// in proportion to the facets. It returns soon after ctx ends.
func (m *Mesh) Mend(ctx context.Context, opts MendOptions) (*Mesh, []Mend, error) {
	for name, length := range map[string]float64{"tolerance": opts.ToleranceMM, "largest hole": opts.HoleMM} {
		if !(length >= 0) || math.IsInf(length, 0) {
			return nil, nil, fmt.Errorf("the %s cannot be %v mm", name, length)
		}
	}
	type outcome struct {
		mesh  *Mesh
		mends []Mend
		err   error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		o.mesh, o.mends, o.err = mend(ctx, m, opts)
		done <- o
	}()
	select {
	case o := <-done:
		return o.mesh, o.mends, o.err
	case <-ctx.Done():
		return nil, nil, ctx.Err()
	}
}

// mender is a surface on its way to being mended.
type mender struct {
	ctx  context.Context
	m    *Mesh   // as mended so far; its arrays are never changed in place
	file []int32 // the facet of the given mesh that each facet was, -1 for a cap
	// turned says which facets face against the way they came.
	turned []bool
	menderLimits
	mends []Mend

	surveyed *halfedge.Survey
	of       *Mesh // what was surveyed: d.m as long as nothing changes
}

// survey returns the edges of the surface as it is.
func (d *mender) survey() *halfedge.Survey {
	if d.surveyed == nil || d.of != d.m {
		d.surveyed, d.of = d.m.survey(), d.m
	}
	return d.surveyed
}

func mend(ctx context.Context, m *Mesh, opts MendOptions) (*Mesh, []Mend, error) {
	if !m.Check().needsMending() {
		return m, nil, ctx.Err()
	}
	d := &mender{ctx: ctx, m: m, menderLimits: m.mendLimits(opts)}
	d.file, d.turned = make([]int32, len(m.Triangles)), make([]bool, len(m.Triangles))
	for f := range d.file {
		d.file[f] = int32(f)
	}
	for _, step := range []func() error{
		d.dropDegenerate, d.dropDuplicates, d.dropStraySlivers, d.turnFacets,
		d.weldCracks, d.splitTJoints, d.dropDuplicates, d.turnFacets,
		d.closeHoles, d.dropDuplicates, d.turnShells,
	} {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if err := step(); err != nil {
			return nil, nil, err
		}
	}
	if len(d.mends) == 0 {
		return m, nil, nil // duplicates that are as good as a shell of their own
	}
	d.dropUnusedVertices()
	if err := d.judge(); err != nil {
		return nil, nil, err
	}
	if err := d.refusal(); err != nil && !opts.Allow {
		return nil, d.mends, err
	}
	return d.m, d.mends, nil
}

// needsMending says whether anything is named that a mend is for. Edges of more
// than two facets and flat facets do no harm where all edges are balanced.
func (r *Report) needsMending() bool {
	return slices.ContainsFunc(r.Problems, func(p Problem) bool {
		return p.Kind != NonmanifoldEdge && p.Kind != ZeroAreaFacet
	})
}

// judge refuses what is not a body with a definite volume even now.
func (d *mender) judge() error {
	r := d.m.Check()
	if len(d.m.Triangles) == 0 {
		return fmt.Errorf("%w: no facet is left that encloses anything", ErrBeyondMending)
	}
	for _, kind := range []ProblemKind{BoundaryEdge, MisorientedEdge, InsideOutShell} {
		for _, p := range r.Problems {
			if p.Kind == kind {
				return fmt.Errorf("%w: %d of %s are left, the first: %s", ErrBeyondMending, p.Count, kind, p.Places[0].Text)
			}
		}
	}
	missing, volume := d.missingMM3(), math.Abs(d.m.volume())
	if volume <= d.harmless {
		return fmt.Errorf("%w: what is left encloses nothing", ErrBeyondMending)
	}
	if missing >= volume {
		return fmt.Errorf("%w: what is missing could be worth %.3g mm3, and only %.3g mm3 are there",
			ErrBeyondMending, missing, volume)
	}
	return nil
}

// missingMM3 is what is unknown of the volume because some surface was not there.
func (d *mender) missingMM3() float64 {
	var missing float64
	for _, mend := range d.mends {
		if mend.Kind != MendFlippedFacet && mend.Kind != MendInsideOutShell {
			missing += mend.VolumeMM3
		}
	}
	return missing
}

// refusal says what mending would take, nil if none of it could change the
// volume by more than rounding.
func (d *mender) refusal() error {
	var parts []string
	for _, mend := range d.mends {
		if mend.MayChangeVolume {
			parts = append(parts, mend.wanted(d.m.volume()))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrNeedsMending, strings.Join(parts, "; "))
}

// wanted says what a mend would do and what it could do to a volume.
func (d Mend) wanted(volume float64) string {
	what := map[MendKind]string{
		MendCrack:          "weld %s across cracks",
		MendTJoint:         "split edges at %s on them",
		MendFlippedFacet:   "turn %s over",
		MendHole:           "close %s",
		MendInsideOutShell: "turn over %s facing inward",
	}[d.Kind]
	noun := map[MendKind]string{
		MendCrack: "corner", MendTJoint: "corner", MendFlippedFacet: "facet", MendHole: "hole", MendInsideOutShell: "shell",
	}[d.Kind]
	text := fmt.Sprintf(what, count(int64(d.Count), noun))
	if len(d.Places) > 0 {
		text += " (" + d.Places[0].Text
		if d.Count > 1 {
			text += ", and others"
		}
		text += ")"
	}
	if d.VolumeMM3 == 0 {
		return text
	}
	return text + ", which may change the volume by up to " + percent(d.VolumeMM3/math.Abs(volume))
}

// percent writes a share for people.
func percent(share float64) string {
	switch {
	case share < 1e-5:
		return "0.001 %"
	case share < 0.1:
		return fmt.Sprintf("%.2g %%", 100*share)
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// note adds mends to those of their kind.
func (d *mender) note(mend Mend) {
	if mend.Count == 0 {
		return
	}
	mend.Places = mend.Places[:min(len(mend.Places), maxPlaces)]
	for i := range d.mends {
		if old := &d.mends[i]; old.Kind == mend.Kind {
			old.Count += mend.Count
			old.VolumeMM3 += mend.VolumeMM3
			old.MayChangeVolume = old.MayChangeVolume || mend.MayChangeVolume
			old.Places = append(old.Places, mend.Places...)
			old.Places = old.Places[:min(len(old.Places), maxPlaces)]
			return
		}
	}
	d.mends = append(d.mends, mend)
}

// volume returns the signed volume of an oriented surface.
func (m *Mesh) volume() float64 {
	return m.Moments().VolumeMM3
}
