package hollow

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/vector"
)

// Options says how a half is looked at. The zero value finds everything out.
type Options struct {
	Pull        r3.Vector // out of the half; zero: found
	ToleranceMM float64   // how far corners may lie from a plane that they are on; 0: see ToleranceFor
	OneLevel    bool      // take flats inside hollows for floors, whatever opens in them
}

// ErrOpen is wrapped when the surface is open where that leaves a volume unknown.
var ErrOpen = errors.New("the surface is open")

// Find finds the hollows of a mold half. Errors wrap ErrNoParting, ErrBait,
// ErrTwoFaces, ErrOpen or mesh.ErrDirection. The mesh must be oriented; it may be
// open where nothing is measured, at the back of the block. The cost is some
// passes over the facets for each flat face, and a grid for each hollow.
func Find(ctx context.Context, m *mesh.Mesh, opts Options) (*Half, error) {
	if len(m.Triangles) == 0 {
		return nil, fmt.Errorf("%w: the model has no facets", ErrNoParting)
	}
	s := newSurface(m, opts.ToleranceMM)
	flats := s.flats()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	h := s.hullOf(flats)
	list := s.candidates(h, flats, !opts.OneLevel)
	best, err := s.pick(list, flats, opts)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	v := best.view
	v.setFrame(best.pieces)
	half := &Half{Triangles: len(m.Triangles), Frame: v.frame, Outline: v.outline, view: v,
		Pull: vector.XYZ(v.frame.Pull), XAxis: vector.XYZ(v.frame.X), PartingMM: v.frame.PartingMM,
		Hollows: []Hollow{}, Connected: []Connected{}, Candidates: []Face{}, Alike: [][]int{}, Mirrored: [][2]int{}, Warnings: []string{}}
	for _, c := range list {
		half.Candidates = append(half.Candidates, c.Face)
	}
	half.describeBlock(best.pieces)
	if err := half.takePieces(best.pieces); err != nil {
		return nil, err
	}
	half.compareCavities()
	half.warnOfStack()
	return half, ctx.Err()
}

// pick takes the face with the given pull, or chooses one.
func (s *surface) pick(list []candidate, flats []flat, opts Options) (candidate, error) {
	if opts.Pull == (r3.Vector{}) {
		return s.choose(list, flats)
	}
	if n := opts.Pull.Norm(); !(n > 0) || math.IsInf(n, 0) {
		return candidate{}, fmt.Errorf("%w: the pull", mesh.ErrDirection)
	}
	pull := opts.Pull.Normalize()
	const near = 0.9962 // cosine of 5 degrees: people write directions by hand
	best := slices.IndexFunc(list, func(c candidate) bool { return vector.Of(c.Pull).Dot(pull) > near })
	if best < 0 {
		return candidate{}, fmt.Errorf("%w: no hollow opens in a flat face along %s%s", ErrNoParting, DirectionText(vector.XYZ(pull)), othersText(list))
	}
	return list[best], nil
}

func othersText(list []candidate) string {
	text := ""
	for i, c := range list {
		text += map[bool]string{true: "; hollows open along ", false: ", "}[i == 0] + DirectionText(c.Pull)
	}
	return text
}

func (h *Half) describeBlock(pieces []*piece) {
	v := h.view
	block := mesh.EmptyBox()
	for _, p := range v.mesh.Vertices {
		block = block.With(v.frame.To(p))
	}
	h.BlockMM = vector.XYZ(block.Size())
	for _, p := range pieces {
		at := v.centre.Dot(v.pull) + p.rimMM
		if v.roleOf(p) == opens && !slices.ContainsFunc(h.LevelsMM, func(l float64) bool { return math.Abs(l-at) <= 4*v.tol }) {
			h.LevelsMM = append(h.LevelsMM, at)
		}
	}
	slices.SortFunc(h.LevelsMM, func(a, b float64) int { return cmp.Compare(b, a) })
}

// part is a hollow with its facets.
type part struct {
	*piece
	kind   Kind
	depths *Depths
	whole  int // of the connected hollow that it was cut from
	gates  []cutGate
}

// cutGate is a gate as it was cut.
type cutGate struct {
	crossed
	line   cutLine
	corner int32 // a corner on the rim at its end, of both parts
}

// takePieces sorts pieces by their roles, cuts the hollows at gates and describes
// what comes of it.
func (h *Half) takePieces(pieces []*piece) error {
	h.warnOfPieces(pieces)
	var wholes []float64
	for _, p := range pieces {
		switch h.view.roleOf(p) {
		case torn:
			at := h.view.frame.To(h.view.mesh.Vertices[p.lowest])
			return fmt.Errorf("%w: a hollow round (%.1f, %.1f) mm ends where facets are missing; --mend closes holes", ErrOpen, at.X, at.Y)
		case opens:
			for _, q := range h.partsOf(p) {
				q.whole = len(wholes)
				h.parts = append(h.parts, q)
			}
			wholes = append(wholes, p.volume)
		}
	}
	h.order()
	for i := range h.parts {
		h.Hollows = append(h.Hollows, h.describe(i))
		h.WorstBoundMM3 = max(h.WorstBoundMM3, h.Hollows[i].BoundMM3)
	}
	h.nameGates()
	for w, volume := range wholes {
		c := Connected{VolumeMM3: volume}
		for i, p := range h.parts {
			if p.whole == w {
				c.IDs = append(c.IDs, i+1)
			}
		}
		if len(c.IDs) > 1 {
			h.Connected = append(h.Connected, c)
		}
	}
	return nil
}

// order numbers cavities before runners before holes, each from left to right.
func (h *Half) order() {
	rank := map[Kind]int{Cavity: 0, Runner: 1, Hole: 2}
	centres := map[*piece]r2.Point{}
	for _, p := range h.parts {
		centres[p.piece] = h.view.openingCentre(p.piece)
	}
	slices.SortStableFunc(h.parts, func(a, b part) int {
		p, q := centres[a.piece], centres[b.piece]
		return cmp.Or(cmp.Compare(rank[a.kind], rank[b.kind]), cmp.Compare(math.Round(p.X*10), math.Round(q.X*10)), cmp.Compare(q.Y, p.Y))
	})
}
