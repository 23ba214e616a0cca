package cavity

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"bellyline/mesh"
	"bellyline/mesh/mend"
	"bellyline/mesh/smooth"
	"bellyline/mesh/stl"
	"bellyline/mesh/union"
	"bellyline/mesh/vector"
)

// Options says how a model is read and measured. The zero value is millimetres,
// no mending, no mass.
type Options struct {
	Unit       stl.Unit
	DensityGML float64 // of what fills it, cold; 0: no mass
	Mend       mend.Options
	Quick      bool // leave out the search for overlaps, and with it the fill volume
	Progress   func(done, total int64)
}

// Measurement is what a model is and holds. Volumes are null where the surface
// does not enclose one; Reason then says why.
type Measurement struct {
	File      string    `json:"file"`
	Format    string    `json:"format"`
	Triangles int       `json:"triangles"`
	Vertices  int       `json:"vertices"`
	Shells    int       `json:"shells"`
	Closed    bool      `json:"closed"`
	Problems  []Problem `json:"problems"`
	Mends     []Mend    `json:"mends"`
	Notes     []string  `json:"notes"`

	VolumeMM3     *float64    `json:"volume_mm3"`      // signed sum over shells, voids subtracted
	FillVolumeMM3 *float64    `json:"fill_volume_mm3"` // what plastic fills: overlapping shells once
	OverlapMM3    *float64    `json:"overlap_mm3"`     // what the signed sum counts more than once
	FillErrorMM3  *float64    `json:"fill_error_mm3"`  // bound of the arithmetic of the fill volume
	FacetMM3      *float64    `json:"facet_mm3"`       // estimate of what flat facets leave out of a smooth body; never added
	RoundingMM3   *float64    `json:"rounding_mm3"`    // proven bound of the arithmetic
	StepMM3       *float64    `json:"step_mm3"`        // what float32 coordinates can do
	AreaMM2       float64     `json:"area_mm2"`
	SizeMM        [3]float64  `json:"size_mm"`
	MinMM         [3]float64  `json:"min_mm"`
	MaxMM         [3]float64  `json:"max_mm"`
	CentroidMM    *[3]float64 `json:"centroid_mm"`
	PrincipalMM   *[3]float64 `json:"principal_mm"` // radii of gyration about the principal axes, ascending
	MassG         *float64    `json:"mass_g"`

	Reason   string   `json:"reason,omitempty"`
	Warnings []string `json:"warnings"`

	sizeDoubt string     // why the unit may be wrong; one of the warnings
	drawn     *mesh.Mesh // the model, mended, its shells each by itself
}

// Problem is all defects of one kind, with the first few places.
type Problem struct {
	Kind  string       `json:"kind"`
	Count int          `json:"count"`
	Where []string     `json:"where"`
	AtMM  [][3]float64 `json:"at_mm"` // of each place
}

// Mend is what was mended, counted, with the first few places.
type Mend struct {
	Kind      string   `json:"kind"`
	Count     int      `json:"count"`
	Where     []string `json:"where"`
	VolumeMM3 float64  `json:"volume_mm3"` // bound of what it can do to the volume
}

// ErrNoVolume is wrapped by the error for a model that encloses no volume.
var ErrNoVolume = errors.New("no volume can be given")

// A bait is some 20 to 400 mm long. Outside of this range the unit is in doubt.
const (
	smallestBaitMM = 10
	largestBaitMM  = 500
)

// Measure reads a model and measures it. A model that encloses no volume is no
// error here: its measurement has a Reason and no volume.
func Measure(ctx context.Context, path string, opts Options) (*Measurement, *mesh.Mesh, error) {
	model, err := stl.ReadFile(ctx, path, stl.ReadOptions{Unit: opts.Unit, Progress: opts.Progress})
	if err != nil {
		return nil, nil, err
	}
	return MeasureModel(ctx, path, model, opts)
}

// MeasureModel measures a model that has been read, and calls it by the given name.
func MeasureModel(ctx context.Context, path string, model *stl.Model, opts Options) (*Measurement, *mesh.Mesh, error) {
	m := &Measurement{File: path, Format: string(model.Format), Mends: []Mend{}, Notes: []string{}, Warnings: []string{}}
	for _, n := range model.Notes {
		m.Notes = append(m.Notes, n.Text)
	}
	surface := model.Mesh
	report, moments := surface.Measure()
	if !m.check(report) {
		var err error
		if surface, err = m.mend(ctx, surface, opts.Mend); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", path, err)
		}
		report, moments = surface.Measure()
	}
	m.measure(moments)
	m.drawn = surface
	if m.Reason == "" && !opts.Quick {
		solid, err := union.OfChecked(ctx, surface, report)
		if err = m.takeSolid(solid, err); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	if m.FillVolumeMM3 != nil {
		facets := smooth.Estimate(surface)
		m.FacetMM3 = &facets
		if opts.DensityGML > 0 {
			mass := *m.FillVolumeMM3 / 1000 * opts.DensityGML
			m.MassG = &mass
		}
	}
	return m, surface, ctx.Err()
}

// check reports what the surface is, and whether it can be measured as it is.
func (m *Measurement) check(report *mesh.Report) bool {
	m.Triangles, m.Vertices, m.Shells = report.Triangles, report.Vertices, report.Shells
	m.Closed = report.Closed
	m.Problems = []Problem{}
	for _, p := range report.Problems {
		m.Problems = append(m.Problems, Problem{Kind: string(p.Kind), Count: p.Count, Where: placesText(p.Places), AtMM: placesMM(p.Places)})
	}
	return report.Oriented && report.Count(mesh.InsideOutShell) == 0
}

// mend makes a broken surface measurable, or gives the reason why not.
func (m *Measurement) mend(ctx context.Context, surface *mesh.Mesh, opts mend.Options) (*mesh.Mesh, error) {
	mended, mends, err := mend.Surface(ctx, surface, opts)
	switch {
	case errors.Is(err, mend.ErrNeeded), errors.Is(err, mend.ErrBeyond):
		m.Reason = WhyUnmended(err)
		return surface, nil
	case err != nil:
		return nil, err
	}
	for _, d := range mends {
		m.Mends = append(m.Mends, Mend{Kind: string(d.Kind), Count: d.Count, Where: placesText(d.Places), VolumeMM3: d.VolumeMM3})
		m.Warnings = append(m.Warnings, MendWarning(d))
	}
	return mended, nil
}

// WhyUnmended is the reason why a surface was not mended, with what would mend it. The
// error is one of mend.Surface.
func WhyUnmended(err error) string {
	text := err.Error()
	var open *mend.NotClosedError
	if errors.As(err, &open) {
		text = open.Err.Error()
	}
	if errors.Is(err, mend.ErrNeeded) {
		text += "; --mend does that"
	}
	if open != nil {
		text += strings.TrimPrefix(err.Error(), open.Err.Error()) + fmt.Sprintf(": --mend --mend-within %g", open.ToleranceMM)
	}
	return text
}

// MendWarning tells what was mended, and what that leaves open.
func MendWarning(d mend.Mend) string {
	if d.Kind == mend.InsideOutShell && !d.MayChangeVolume {
		return "the whole model faced inward, so it was turned round"
	}
	kind := strings.ReplaceAll(string(d.Kind), "_", " ")
	if d.Count != 1 {
		kind += "s"
	}
	text := fmt.Sprintf("mended: %d %s", d.Count, kind)
	if len(d.Places) > 0 {
		text += ", the first at " + placeText(d.Places[0])
	}
	if d.WithinMM > 0 {
		text += fmt.Sprintf(", within %g mm, the least at which the surface closes", d.WithinMM)
	}
	if d.Readings != "" {
		text += "; " + d.Readings
	}
	return text + fmt.Sprintf("; that can be off by at most %.3g mm3", d.VolumeMM3)
}

func placesText(places []mesh.Place) []string {
	list := []string{}
	for _, p := range places {
		list = append(list, placeText(p))
	}
	return list
}

func placesMM(places []mesh.Place) [][3]float64 {
	list := [][3]float64{}
	for _, p := range places {
		list = append(list, vector.XYZ(p.At))
	}
	return list
}

// placeText names a facet by the number that other programs show.
func placeText(p mesh.Place) string {
	if p.Facet < 0 {
		return p.Text
	}
	return fmt.Sprintf("facet %d: %s", p.Facet+1, p.Text)
}

func (m *Measurement) measure(moments mesh.Moments) {
	box := moments.Bounds
	m.AreaMM2 = moments.AreaMM2
	m.SizeMM, m.MinMM, m.MaxMM = vector.XYZ(box.Size()), vector.XYZ(box.Min), vector.XYZ(box.Max)
	if m.sizeDoubt = sizeDoubt(max(box.Size().X, box.Size().Y, box.Size().Z)); m.sizeDoubt != "" {
		m.Warnings = append(m.Warnings, m.sizeDoubt)
	}
	if m.Reason != "" {
		return
	}
	m.VolumeMM3, m.RoundingMM3, m.StepMM3 = &moments.VolumeMM3, &moments.RoundingMM3, &moments.StepMM3
	if math.Abs(moments.VolumeMM3) <= moments.RoundingMM3 {
		m.Reason = "the surface is closed but encloses nothing: its sides lie on each other; give the sheet a thickness"
		return
	}
	centroid, principal := vector.XYZ(moments.Centroid), gyration(moments)
	m.CentroidMM, m.PrincipalMM = &centroid, &principal
	if moments.VolumeMM3 < 0 {
		m.Reason = fmt.Sprintf("the volume is %.4g mm3: the surface is inside out; export it with its facets facing outward", moments.VolumeMM3)
		return
	}
}

// takeSolid takes over what plastic fills, or the reason why that has no number, and
// warns of what the plain sum counts twice.
func (m *Measurement) takeSolid(s union.Solid, err error) error {
	switch {
	case errors.Is(err, union.ErrInsideOut), errors.Is(err, union.ErrWinding):
		m.Reason = err.Error()
		return nil
	case err != nil:
		return err
	}
	m.FillVolumeMM3, m.OverlapMM3, m.FillErrorMM3 = &s.VolumeMM3, &s.OverlapMM3, &s.ErrorMM3
	if s.OverlapMM3 > 0 {
		m.Warnings = append(m.Warnings, overlapWarning(s))
	}
	return nil
}

// overlapWarning tells where solids drawn into each other would count twice.
func overlapWarning(s union.Solid) string {
	text := fmt.Sprintf("parts of the model overlap by %.2f mm3; that is filled once here, but counts twice in the plain sum", s.OverlapMM3)
	if len(s.Overlaps) > 0 {
		at := s.Overlaps[0].Box.Centre()
		text += fmt.Sprintf("; the largest overlap lies round (%.1f, %.1f, %.1f) mm", at.X, at.Y, at.Z)
	}
	return text
}

// sizeDoubt says why the unit of a model may be wrong, or nothing.
func sizeDoubt(longest float64) string {
	switch {
	case longest < smallestBaitMM:
		return fmt.Sprintf("the model is only %.3g mm long: was it drawn in inches (--unit in) or cm? nothing was rescaled", longest)
	case longest > largestBaitMM:
		return fmt.Sprintf("the model is %.4g mm long: is the unit right? nothing was rescaled", longest)
	}
	return ""
}

// gyration returns the radii of gyration: the distance from each principal axis
// at which all of the volume would have the same moment of inertia.
func gyration(m mesh.Moments) [3]float64 {
	var r [3]float64
	for i, inertia := range m.PrincipalMM5 {
		r[i] = math.Sqrt(max(0, inertia/m.VolumeMM3))
	}
	return r
}
