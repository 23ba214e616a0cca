package hollow

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/exact"
	"bellyline/mesh/stl"
	"bellyline/mesh/tree"
	"bellyline/mesh/vector"
)

// Draft says whether a bait can be pulled out of a mold of two halves that part
// at a plane: one half is pulled off along Pull, the other one against it.
//
// What holds the bait back is undercut: surface above the parting plane that
// faces down, and surface below it that faces up. Soft plastic gives way where
// metal does not, so this reports and forbids nothing.
type Draft struct {
	File      string     `json:"file"`
	Triangles int        `json:"triangles"`
	AreaMM2   float64    `json:"area_mm2"`
	Pulled    Pull       `json:"pulled"` // the pull asked for
	Least     Pull       `json:"least"`  // the pull with the least undercut of all directions
	Steepness []Steep    `json:"steepness"`
	Undercuts []Undercut `json:"undercuts"` // the largest connected places along Pulled, at most 5
	Warnings  []string   `json:"warnings"`
}

// Pull is one direction with the parting plane that suits it best.
type Pull struct {
	Pull        [3]float64 `json:"pull"`
	PartingMM   float64    `json:"parting_mm"`   // height of the plane along Pull, in the model
	UndercutMM2 float64    `json:"undercut_mm2"` // seen along the pull
}

// Steep is how much surface is as steep as this: the angle between the surface and
// the pull, 0 for an upright wall, 90 for a floor.
type Steep struct {
	FromDeg float64 `json:"from_deg"`
	ToDeg   float64 `json:"to_deg"`
	AreaMM2 float64 `json:"area_mm2"` // free of undercut
	HeldMM2 float64 `json:"held_mm2"` // undercut
}

// Undercut is a connected place that holds the bait back.
type Undercut struct {
	AreaMM2 float64    `json:"area_mm2"` // seen along the pull
	MinMM   [3]float64 `json:"min_mm"`   // its box in the model
	MaxMM   [3]float64 `json:"max_mm"`
}

// steepDegrees are the borders of the steepness histogram: molders speak of one,
// two, three degrees of draft.
var steepDegrees = [...]float64{0, 0.5, 1, 2, 3, 5, 10, 20, 45, 90}

// OpenDraft reads the model of a bait and says whether it can be pulled. Errors
// name the file and wrap those of stl.ReadFile and mend.Surface.
func OpenDraft(ctx context.Context, path string, read cavity.Options, pull r3.Vector) (*Draft, error) {
	model, err := stl.ReadFile(ctx, path, stl.ReadOptions{Unit: read.Unit, Progress: read.Progress})
	if err != nil {
		return nil, err
	}
	surface, warnings, err := sound(ctx, model.Mesh, read.Mend)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	d, err := DraftOf(ctx, surface, pull)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	d.File, d.Warnings = path, append(d.Warnings, warnings...)
	return d, nil
}

// DraftOf measures undercut along a pull, and finds the pull with the least. Errors
// wrap mesh.ErrDirection, mesh.ErrNotClosed and ErrNoParting for no facets. The
// cost is some hundred passes over at most 20000 facets and some dozens over all.
func DraftOf(ctx context.Context, m *mesh.Mesh, pull r3.Vector) (*Draft, error) {
	if n := pull.Norm(); !(n > 0) || math.IsInf(n, 0) {
		return nil, fmt.Errorf("%w: the pull", mesh.ErrDirection)
	}
	if len(m.Triangles) == 0 {
		return nil, fmt.Errorf("%w: the model has no facets", ErrNoParting)
	}
	if !m.Check().Oriented {
		return nil, fmt.Errorf("cannot tell inside from outside: %w; --mend closes holes", mesh.ErrNotClosed)
	}
	s, err := skinOf(ctx, m)
	if err != nil {
		return nil, err
	}
	d := &Draft{Triangles: len(m.Triangles), AreaMM2: s.total, Undercuts: []Undercut{}, Warnings: []string{}}
	d.Pulled = s.pulled(snapped(pull.Normalize()))
	least, err := s.leastUndercut(ctx)
	if err != nil {
		return nil, err
	}
	d.Least = least
	if d.Pulled.UndercutMM2 <= d.Least.UndercutMM2 {
		d.Least = d.Pulled
	}
	s.steepness(d)
	s.undercuts(d)
	return d, nil
}

// skinOf is the surface of a bait, without what lies inside other solids of it.
func skinOf(ctx context.Context, m *mesh.Mesh) (*surface, error) {
	s := newSurface(m, 0)
	overlap, err := overlapOf(ctx, m)
	if err != nil {
		return nil, err
	}
	if overlap > 0 {
		s.dropBuried()
	}
	return s, nil
}

// UndercutAt returns the undercut in mm2, seen along a pull, of a mold that parts at
// each of some heights along it. Errors are those of DraftOf; the cost is a pass a height.
func UndercutAt(ctx context.Context, m *mesh.Mesh, pull r3.Vector, heightsMM ...float64) ([]float64, error) {
	if n := pull.Norm(); !(n > 0) || math.IsInf(n, 0) {
		return nil, fmt.Errorf("%w: the pull", mesh.ErrDirection)
	}
	s, err := skinOf(ctx, m)
	if err != nil {
		return nil, err
	}
	undercuts := make([]float64, len(heightsMM))
	for i, h := range heightsMM {
		undercuts[i] = s.undercutAt(snapped(pull.Normalize()), h)
	}
	return undercuts, nil
}

// dropBuried takes the area from facets whose middle lies inside another solid of
// the model: they are no skin of the bait. A facet that is buried in part counts
// as a whole.
func (s *surface) dropBuried() {
	tree := tree.New(s.mesh)
	var total exact.Sum
	for t := range s.areas {
		a, b, c := s.mesh.Corners(t)
		just := a.Add(b).Add(c).Mul(1.0 / 3).Add(s.normals[t].Mul(10 * s.tol)) // outside of its own solid
		if w, ok := tree.Winding(just); ok && w > 0 {
			s.areas[t] = 0
		}
		total = total.Plus(s.areas[t])
	}
	s.total = total.Value()
}

// pulled finds the parting height with the least undercut along a direction: first
// on a grid of heights with each facet at its middle, then with facets cut at the
// height.
func (s *surface) pulled(dir r3.Vector) Pull {
	all := make([]int32, len(s.areas))
	for t := range all {
		all[t] = int32(t)
	}
	_, coarse := s.roughly(all, dir)
	step := s.size / roughHeights
	exact := func(h float64) float64 { return s.undercutAt(dir, h) }
	h := golden(exact, coarse-2*step, coarse+2*step)
	if exact(coarse) < exact(h) {
		h = coarse
	}
	return Pull{Pull: vector.XYZ(dir), PartingMM: s.onCorner(dir, h, exact), UndercutMM2: exact(s.onCorner(dir, h, exact))}
}

// onCorner moves a height to that of the nearest corner where that is no worse: a
// model is usually drawn with corners in its parting plane.
func (s *surface) onCorner(dir r3.Vector, h float64, undercut func(float64) float64) float64 {
	near, away := h, math.Inf(1)
	for _, p := range s.mesh.Vertices {
		if z := p.Dot(dir); math.Abs(z-h) < away {
			near, away = z, math.Abs(z-h)
		}
	}
	if away <= s.size*1e-3 && undercut(near) <= undercut(h)*(1+1e-9)+s.tol*s.tol {
		return near
	}
	return h
}

// roughHeights is how many heights a direction is tried at.
const roughHeights = 256

// roughly returns the least undercut over heights along a direction, each facet
// being taken for its middle, and the height.
func (s *surface) roughly(facets []int32, dir r3.Vector) (undercut, height float64) {
	low := s.centre.Dot(dir) - s.size/2
	step := s.size / roughHeights
	var held [roughHeights + 1]float64 // change of the undercut as the plane passes each height
	start := 0.0
	for _, t := range facets {
		shadow := s.normals[t].Dot(dir) * s.areas[t]
		a, b, c := s.mesh.Corners(int(t))
		k := int(((a.Add(b).Add(c)).Dot(dir)/3 - low) / step)
		held[min(max(k, 0), roughHeights-1)+1] += shadow
		if shadow < 0 {
			start -= shadow // faces down and lies above the lowest plane
		}
	}
	// Below a rising plane, facets that face up become undercut and those that face
	// down cease to be: both change the sum by their shadow.
	best, at, sum := start, 0, start
	for k := 1; k <= roughHeights; k++ {
		sum += held[k]
		if sum < best {
			best, at = sum, k
		}
	}
	return best, low + float64(at)*step
}

// undercutAt is the undercut seen along dir of a parting plane at height h.
func (s *surface) undercutAt(dir r3.Vector, h float64) float64 {
	var total exact.Sum
	for t := range s.normals {
		total = total.Plus(s.heldShadow(int32(t), dir, h))
	}
	return total.Value()
}

// heldShadow is how much of a facet is undercut, seen along dir.
func (s *surface) heldShadow(t int32, dir r3.Vector, h float64) float64 {
	return math.Abs(s.normals[t].Dot(dir)) * s.areas[t] * s.heldShare(t, dir, h)
}

// heldShare is the share of a facet that is undercut: what faces down above h, and
// what faces up below. An upright facet is free.
func (s *surface) heldShare(t int32, dir r3.Vector, h float64) float64 {
	switch rise := s.normals[t].Dot(dir); {
	case math.Abs(rise) <= alongSine:
		return 0
	case rise < 0:
		return s.shareAbove(t, dir, h)
	}
	return 1 - s.shareAbove(t, dir, h)
}

// shareAbove is the share of a facet's area above a height.
func (s *surface) shareAbove(t int32, dir r3.Vector, h float64) float64 {
	p, q, r := s.mesh.Corners(int(t))
	z := [3]float64{p.Dot(dir), q.Dot(dir), r.Dot(dir)}
	slices.Sort(z[:])
	switch {
	case z[2]-z[0] <= 2*s.tol && math.Abs(h-z[1]) <= 2*s.tol: // in the plane: of the half that frees it
		if s.normals[t].Dot(dir) > 0 {
			return 1
		}
		return 0
	case h <= z[0]:
		return 1
	case h >= z[2]:
		return 0
	case h <= z[1]:
		return 1 - (h-z[0])*(h-z[0])/((z[1]-z[0])*(z[2]-z[0]))
	}
	return (z[2] - h) * (z[2] - h) / ((z[2] - z[1]) * (z[2] - z[0]))
}

// golden finds a least value between two places by golden sections.
func golden(f func(float64) float64, a, b float64) float64 {
	const ratio = 0.6180339887498949 // (sqrt(5)-1)/2
	c, d := b-ratio*(b-a), a+ratio*(b-a)
	fc, fd := f(c), f(d)
	for range 30 {
		if fc <= fd {
			b, d, fd = d, c, fc
			c = b - ratio*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + ratio*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}

// steepness fills in the histogram.
func (s *surface) steepness(d *Draft) {
	dir, h := vector.Of(d.Pulled.Pull), d.Pulled.PartingMM
	for i := range len(steepDegrees) - 1 {
		d.Steepness = append(d.Steepness, Steep{FromDeg: steepDegrees[i], ToDeg: steepDegrees[i+1]})
	}
	for t, n := range s.normals {
		angle := math.Asin(min(1, math.Abs(n.Dot(dir)))) * 180 / math.Pi
		i := 0
		for i+2 < len(steepDegrees) && angle >= steepDegrees[i+1] {
			i++
		}
		held := s.heldShare(int32(t), dir, h)
		d.Steepness[i].AreaMM2 += s.areas[t] * (1 - held)
		d.Steepness[i].HeldMM2 += s.areas[t] * held
	}
}

// undercuts lists the largest connected places that are undercut.
func (s *surface) undercuts(d *Draft) {
	dir, h := vector.Of(d.Pulled.Pull), d.Pulled.PartingMM
	held := make([]float64, len(s.areas))
	for t := range held {
		held[t] = s.heldShadow(int32(t), dir, h)
	}
	const trifle = 1e-6 // of the surface; what rounding makes of upright walls
	seen := make([]bool, len(held))
	for t := range held {
		if seen[t] || held[t] == 0 {
			continue
		}
		if u := s.connectedUndercut(int32(t), held, seen); u.AreaMM2 > trifle*s.total {
			d.Undercuts = append(d.Undercuts, u)
		}
	}
	slices.SortStableFunc(d.Undercuts, func(a, b Undercut) int { return cmp.Compare(b.AreaMM2, a.AreaMM2) })
	d.Undercuts = d.Undercuts[:min(5, len(d.Undercuts))]
}

func (s *surface) connectedUndercut(first int32, held []float64, seen []bool) Undercut {
	u, box := Undercut{}, mesh.EmptyBox()
	list := []int32{first}
	seen[first] = true
	for len(list) > 0 {
		t := list[len(list)-1]
		list = list[:len(list)-1]
		u.AreaMM2 += held[t]
		for _, c := range s.mesh.Triangles[t] {
			box = box.With(s.mesh.Vertices[c])
		}
		for i := range int32(3) {
			if o := s.twins[3*t+i]; o != none && held[o/3] > 0 && !seen[o/3] {
				seen[o/3] = true
				list = append(list, o/3)
			}
		}
	}
	u.MinMM, u.MaxMM = vector.XYZ(box.Min), vector.XYZ(box.Max)
	return u
}
