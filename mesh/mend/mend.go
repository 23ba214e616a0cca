// Package mend makes closed and consistently oriented surfaces of broken ones, and says
// and bounds what it did.
package mend

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// ErrNeeded is wrapped when a surface could be mended, but only by changes
// that its volume may depend on, and these were not allowed. Its text says what
// it would take and where.
var ErrNeeded = errors.New("the surface needs mending")

// ErrBeyond is wrapped when no rule here turns a surface into one that
// encloses a definite volume. Its text says what is in the way and where.
var ErrBeyond = errors.New("the surface cannot be mended")

// Kind names what was mended with the usual term, in snake case.
type Kind string

const (
	// DegenerateFacet removes a facet with two equal corners. Exact.
	DegenerateFacet Kind = "degenerate_facet"
	// DuplicateFacet removes facets whose corners another facet has as well:
	// pairs that lie back to back, and copies that leave fewer edges open when they
	// go. Exact.
	DuplicateFacet Kind = "duplicate_facet"
	// ZeroAreaFacet removes facets thinner than half a float32 step that hang
	// on nothing: all their edges are open ones. Those that hold the surface
	// together stay.
	ZeroAreaFacet Kind = "zero_area_facet"
	// Crack welds a corner on an open edge to another one within the tolerance.
	Crack Kind = "crack"
	// TJoint splits an open edge at a corner that lies on it within the
	// tolerance.
	TJoint Kind = "t_joint"
	// FlippedFacet turns a facet that disagrees with its neighbours about what
	// is outside. Of a closed part only one way of facing is right, by its volume;
	// within another part the larger area decides.
	FlippedFacet Kind = "flipped_facet"
	// OneSidedFacet removes facets of a strip with one side only: of all of a band that is
	// the smaller part of the surface and leaves no hole, else the few along the edges
	// at which the rest of the surface would have two sides.
	OneSidedFacet Kind = "one_sided_facet"
	// Hole closes a hole: a flat one of any size by a flat cap, any other one by
	// the cap of least area if it is not too large.
	Hole Kind = "hole"
	// InsideOutShell turns a closed part of negative volume that is no void.
	InsideOutShell Kind = "inside_out_shell"
)

// Mend is all mends of one kind.
type Mend struct {
	Kind  Kind
	Count int // facets, corners welded, corners put onto edges, holes or shells
	// Places names the first few. Facets are those of the mesh that was given.
	Places []mesh.Place
	// VolumeMM3 bounds how far these mends may leave the volume from that of the body
	// meant. What that assumes where something is missing is said at Options.
	// Parts that are turned leave nothing open if they neither lie in nor reach into
	// another part, since then they can face in one way only; one within another part
	// may be a void or not, so it leaves twice its volume open; for one that reaches
	// into others see Readings.
	VolumeMM3 float64
	// Readings tells what parts hold by each reading, where some faced inward and reach
	// into others that did not: all of them are bodies, which is what is taken, or the
	// smaller side is cut out of the other. VolumeMM3 has the difference. Empty where
	// there is one reading.
	Readings string
	// WithinMM is the tolerance, if it was found rather than given.
	WithinMM float64
	// MayChangeVolume says that the mend decides something which the surface as it
	// was left open, by more than the rounding of a file can.
	MayChangeVolume bool
}

// Options says how far mending may go. The zero value does only what cannot
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
type Options struct {
	// Allow turns on mends that could change the volume by more than rounding.
	Allow bool
	// ToleranceMM is how far apart corners may be, or a corner from an edge, to be
	// taken for the same place, along open edges only. 0 stands for tolerancePart
	// of the size.
	ToleranceMM float64
	// FindTolerance takes the smallest tolerance at which the surface closes without a
	// cap, up to farthestPart of the size, if what that can do to the volume is
	// below closingShare. ToleranceMM is where the search begins.
	FindTolerance bool
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

// Surface returns the surface as a closed and consistently oriented one, and what
// was done to make it so, one entry a kind in the order of the work. A surface
// with nothing to mend comes back itself, with no mends; the given mesh is never
// changed.
//
// Without opts.Allow a mend that could change the volume by more than rounding is
// refused: the error wraps ErrNeeded, and the mends say what it would take.
// If even all mends together do not lead to a surface that encloses a definite
// volume, the error wraps ErrBeyond. Shells that overlap are left alone. Where a
// larger tolerance would close a surface that is refused, the error is a
// *NotClosedError around those.
//
// It costs a handful of checks, more only where something is broken, a dozen times
// that where a tolerance is looked for, and memory in proportion to the facets. It returns soon after ctx ends.
func Surface(ctx context.Context, m *mesh.Mesh, opts Options) (*mesh.Mesh, []Mend, error) {
	for name, length := range map[string]float64{"tolerance": opts.ToleranceMM, "largest hole": opts.HoleMM} {
		if !(length >= 0) || math.IsInf(length, 0) {
			return nil, nil, fmt.Errorf("the %s cannot be %v mm", name, length)
		}
	}
	type outcome struct {
		mesh  *mesh.Mesh
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
	m    *mesh.Mesh // as mended so far; its arrays are never changed in place
	file []int32    // the facet of the given mesh that each facet was, -1 for a cap
	// turned says which facets face against the way they came.
	turned []bool
	menderLimits
	mends   []Mend
	foundMM float64 // the tolerance, if it was found, see findTolerance

	surveyed *halfedge.Survey
	of       *mesh.Mesh // what was surveyed: d.m as long as nothing changes
}

// survey returns the edges of the surface as it is.
func (d *mender) survey() *halfedge.Survey {
	if d.surveyed == nil || d.of != d.m {
		d.surveyed, d.of = surveyOf(d.m), d.m
	}
	return d.surveyed
}

// surveyOf looks at all edges of a surface.
func surveyOf(m *mesh.Mesh) *halfedge.Survey { return halfedge.NewSurvey(m.Triangles, len(m.Vertices)) }

func mend(ctx context.Context, m *mesh.Mesh, opts Options) (*mesh.Mesh, []Mend, error) {
	if !needsMending(m.Check()) {
		return m, nil, ctx.Err()
	}
	d := &mender{ctx: ctx, m: m, menderLimits: limitsFor(m, opts)}
	d.file, d.turned = make([]int32, len(m.Triangles)), make([]bool, len(m.Triangles))
	for f := range d.file {
		d.file[f] = int32(f)
	}
	if err := d.run(d.dropDegenerate, d.dropDuplicates, d.dropStraySlivers, d.dropStrips, d.turnFacets); err != nil {
		return nil, nil, err
	}
	if opts.FindTolerance {
		if err := d.findTolerance(); err != nil {
			return nil, nil, err
		}
	}
	before := *d
	before.turned = slices.Clone(d.turned)
	if err := d.run(d.weldCracks, d.splitTJoints, d.dropDuplicates, d.dropStrips, d.turnFacets,
		d.closeHoles, d.dropDuplicates, d.turnShells); err != nil {
		return nil, nil, before.withClosing(err)
	}
	if len(d.mends) == 0 {
		return m, nil, nil // duplicates that are as good as a shell of their own
	}
	d.dropUnusedVertices()
	if err := d.judge(); err != nil {
		return nil, nil, before.withClosing(err)
	}
	if err := d.refusal(); err != nil && !opts.Allow {
		return nil, d.mends, before.withClosing(err)
	}
	return d.m, d.mends, nil
}

// run takes some steps in turn.
func (d *mender) run(steps ...func() error) error {
	for _, step := range steps {
		if err := d.ctx.Err(); err != nil {
			return err
		}
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// needsMending says whether anything is named that a mend is for. Edges of more
// than two facets and flat facets do no harm where all edges are balanced.
func needsMending(r *mesh.Report) bool {
	return slices.ContainsFunc(r.Problems, func(p mesh.Problem) bool {
		return p.Kind != mesh.NonmanifoldEdge && p.Kind != mesh.ZeroAreaFacet
	})
}

// judge refuses what is not a body with a definite volume even now.
func (d *mender) judge() error {
	r := d.m.Check()
	if len(d.m.Triangles) == 0 {
		return fmt.Errorf("%w: no facet is left that encloses anything", ErrBeyond)
	}
	for _, kind := range []mesh.ProblemKind{mesh.BoundaryEdge, mesh.MisorientedEdge, mesh.InsideOutShell} {
		for _, p := range r.Problems {
			if p.Kind == kind {
				return fmt.Errorf("%w: %d of %s are left, the first: %s", ErrBeyond, p.Count, kind, p.Places[0].Text)
			}
		}
	}
	missing, volume := d.missingMM3(), math.Abs(volumeOf(d.m))
	if volume <= d.harmless {
		return fmt.Errorf("%w: what is left encloses nothing", ErrBeyond)
	}
	if missing >= volume {
		return fmt.Errorf("%w: what is missing could be worth %.3g mm3, and only %.3g mm3 are there",
			ErrBeyond, missing, volume)
	}
	return nil
}

// missingMM3 is what is unknown of the volume because some surface was not there.
func (d *mender) missingMM3() float64 {
	var missing float64
	for _, mend := range d.mends {
		if mend.Kind != FlippedFacet && mend.Kind != InsideOutShell {
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
			parts = append(parts, mend.wanted(volumeOf(d.m)))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrNeeded, strings.Join(parts, "; "))
}

// wanted says what a mend would do and what it could do to a volume.
func (d Mend) wanted(volume float64) string {
	what := map[Kind]string{
		Crack:          "weld %s across cracks",
		TJoint:         "split edges at %s on them",
		FlippedFacet:   "turn %s over",
		OneSidedFacet:  "drop %s of strips with one side only",
		Hole:           "close %s",
		InsideOutShell: "turn over %s facing inward",
	}[d.Kind]
	noun := map[Kind]string{
		Crack: "corner", TJoint: "corner", FlippedFacet: "facet", OneSidedFacet: "facet", Hole: "hole", InsideOutShell: "shell",
	}[d.Kind]
	if d.Count != 1 {
		noun += "s"
	}
	text := fmt.Sprintf(what, fmt.Sprint(d.Count, " ", noun))
	if len(d.Places) > 0 {
		text += " (" + d.Places[0].Text
		if d.Count > 1 {
			text += ", and others"
		}
		text += ")"
	}
	if d.Readings != "" {
		text += "; " + d.Readings
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
	mend.Places = mend.Places[:min(len(mend.Places), mesh.MaxPlaces)]
	for i := range d.mends {
		if old := &d.mends[i]; old.Kind == mend.Kind {
			old.Count += mend.Count
			old.VolumeMM3 += mend.VolumeMM3
			old.MayChangeVolume = old.MayChangeVolume || mend.MayChangeVolume
			old.Places = append(old.Places, mend.Places...)
			old.Places = old.Places[:min(len(old.Places), mesh.MaxPlaces)]
			return
		}
	}
	d.mends = append(d.mends, mend)
}

// volumeOf returns the signed volume of an oriented surface.
func volumeOf(m *mesh.Mesh) float64 {
	return m.Moments().VolumeMM3
}
