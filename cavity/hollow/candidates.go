package hollow

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/golang/geo/r3"

	"bellyline/mesh/vector"
)

// Errors of Find, for errors.Is. Each comes with what was found and what to do.
var (
	// ErrNoParting is wrapped when no flat face has a hollow that opens in it.
	ErrNoParting = errors.New("no parting face")
	// ErrBait is wrapped when the model has no flat faces, as a bait has none.
	ErrBait = errors.New("this is no mold half")
	// ErrTwoFaces is wrapped when hollows open on more than one face, so that either
	// could be the parting face.
	ErrTwoFaces = errors.New("hollows open on more than one face")
)

// Face is a face that could be the parting face, seen along its pull.
type Face struct {
	Pull      [3]float64 `json:"pull"`
	Hollows   int        `json:"hollows"`    // that open in it, holes left out
	VolumeMM3 float64    `json:"volume_mm3"` // of all of them
	HolesMM3  float64    `json:"holes_mm3"`  // of round and through holes
	OwnMM3    float64    `json:"own_mm3"`    // of those hollows that do not open in the best face
}

// candidate is a face with everything found on it.
type candidate struct {
	Face
	view    *view
	pieces  []*piece
	hollows []*piece // that open in it, holes left out
	worth   float64
	own     float64 // worth of what does not open in the best face
}

// worth is what a hollow counts for when faces are compared: its opening, times its
// depth as far as that is no more than the opening is wide. A runner that leaves
// through a side opens there little.
func (p *piece) worth() float64 {
	return p.opening * min(p.rimMM-p.low, math.Sqrt(p.opening))
}

// candidates looks at the surface along every way that a flat faces, and keeps
// those with something open, the best first.
func (s *surface) candidates(h hull, flats []flat, steps bool) []candidate {
	var pulls []r3.Vector
	for _, f := range flats {
		known := func(p r3.Vector) bool { return p.Dot(f.normal) > 1-1e-6 }
		if !slices.ContainsFunc(pulls, known) {
			pulls = append(pulls, f.normal)
		}
	}
	found := make([]candidate, len(pulls))
	var wait sync.WaitGroup
	for i, pull := range pulls {
		wait.Go(func() { found[i] = s.candidate(h, flats, pull, steps) })
	}
	wait.Wait()
	found = slices.DeleteFunc(found, func(c candidate) bool { return c.worth <= 0 })
	slices.SortStableFunc(found, func(a, b candidate) int {
		if math.Abs(a.worth-b.worth) > 1e-9*max(a.worth, b.worth) {
			return cmp.Compare(b.worth, a.worth)
		}
		p, q := a.Pull, b.Pull // a block with through holes only has no front: upwards is as good as any
		return cmp.Or(cmp.Compare(q[2], p[2]), cmp.Compare(q[1], p[1]), cmp.Compare(q[0], p[0]))
	})
	s.tellApart(found)
	return found
}

func (s *surface) candidate(h hull, flats []flat, pull r3.Vector, steps bool) candidate {
	c := candidate{view: s.view(h, flats, pull, steps)}
	c.Pull = vector.XYZ(pull)
	if len(c.view.regions) == 0 {
		return c
	}
	c.pieces = c.view.pieces()
	for _, p := range c.pieces {
		switch r := c.view.roleOf(p); {
		case r == torn:
			// It may open here; takePieces says what is wrong with it.
			c.worth += 1e-9 * p.rim.length * p.rim.length
		case r != opens:
		case p.rim.far > 0 || c.view.isRoundHole(p):
			c.HolesMM3 += p.volume
			c.worth += 1e-6 * p.worth() // for a block with nothing but holes
		default:
			c.Hollows++
			c.VolumeMM3 += p.volume
			c.worth += p.worth()
			c.hollows = append(c.hollows, p)
		}
	}
	return c
}

// rival is the share of the best face's worth from which another face, for what does
// not open in the best one, is as sensible a parting face.
const rival = 0.05

// tellApart finds what each face has that does not open in the best one.
func (s *surface) tellApart(list []candidate) {
	if len(list) == 0 {
		return
	}
	inBest := make([]bool, len(s.areas))
	for _, p := range list[0].hollows {
		for _, t := range p.facets {
			inBest[t] = true
		}
	}
	for i := range list {
		for _, p := range list[i].hollows {
			if i == 0 || !inBest[p.facets[0]] {
				list[i].own += p.worth()
				list[i].OwnMM3 += p.volume
			}
		}
	}
}

// choose takes the best face, or says why there is none.
func (s *surface) choose(list []candidate, flats []flat) (candidate, error) {
	if len(list) == 0 {
		return candidate{}, s.nothingOpens(flats)
	}
	best := list[0]
	names := []string{best.text()}
	for _, c := range list[1:] {
		if c.own >= rival*best.worth && best.Hollows > 0 {
			names = append(names, c.text())
		}
	}
	if len(names) > 1 {
		return best, fmt.Errorf("%w: %s; say which is the parting face with --pull", ErrTwoFaces, strings.Join(names, ", "))
	}
	return best, nil
}

func (c candidate) text() string {
	return fmt.Sprintf("%s (%d of %.0f mm3)", DirectionText(c.Pull), c.Hollows, c.VolumeMM3)
}

// blocky is the share of the surface that a block has on the largest flat of its
// outside at least.
const blocky = 0.05

func (s *surface) nothingOpens(flats []flat) error {
	largest, outside := 0.0, 0
	for _, f := range flats {
		if f.outside {
			largest = max(largest, f.area)
			outside++
		}
	}
	if largest < blocky*s.total {
		return fmt.Errorf("%w: it has no flat face that hollows could open in; is it a bait? bellyline measure takes those, and --bait says whether it can be pulled", ErrBait)
	}
	return fmt.Errorf("%w: nothing opens in any of the %d flat faces; is this a plain block or a bait? the model of a mold half is the block with its hollows cut out", ErrNoParting, outside)
}

// DirectionText names a direction +x to -z where it is one, and by numbers otherwise.
func DirectionText(d [3]float64) string {
	for i, name := range [3]string{"x", "y", "z"} {
		if math.Abs(d[i]) > 1-1e-12 {
			return map[bool]string{true: "+", false: "-"}[d[i] > 0] + name
		}
	}
	return fmt.Sprintf("%.4f,%.4f,%.4f", d[0], d[1], d[2])
}
