package laminate

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"bellyline/cavity/units"
)

// Across tells that the plane between the two streams stands across the parting face,
// where a laminate has it in the parting face: the block sits a quarter turn off.
type Across struct {
	// Beside counts the cavities on the side of the runner that the first colour's
	// stream faces, and on that of the second's; the others lie on the runner's own
	// line. Nil when nobody has said: half on each side, an odd one on the line.
	Beside []int
}

// SideBySide is what a shot gives whose streams part across the parting face: no
// laminate.
type SideBySide struct {
	Sides   []Side `json:"sides"`
	Assumed bool   `json:"assumed"` // nobody said where the cavities lie
	Says    string `json:"says"`
	Remedy  string `json:"remedy"`
}

// Side is cavities that lie alike.
type Side struct {
	Lies     string      `json:"lies"`
	Cavities int         `json:"cavities"`
	Colours  []SideShare `json:"colours"`
	Gets     string      `json:"gets"` // the same in words
	// Of one bait, as fed as the job says, and with nothing drawn while it shrinks.
	MassG      float64 `json:"mass_g"`
	MassUnfedG float64 `json:"mass_unfed_g"`
	// UprightMM is how far in from its first colour's side the line of a bait on the
	// runner's line stands, from nose to tail; null elsewhere and without a model.
	UprightMM *float64 `json:"upright_mm"`

	first float64
}

// SideShare is one colour's share of the baits of a side.
type SideShare struct {
	Name  string  `json:"name"`
	Share float64 `json:"share"`
}

func (j Job) checkAcross() error {
	switch a := j.Across; {
	case a == nil:
	case len(j.Colours) != 2:
		return fmt.Errorf("%w: one colour has one stream, and no plane between two", ErrJob)
	case j.inserted() != nil:
		return fmt.Errorf("%w: a line of the kind %s takes %s, so there are no two streams side by side", ErrJob, j.inserted().Kind(), insert)
	case a.Beside == nil:
	case len(a.Beside) != 2 || slices.Min(a.Beside) < 0:
		return fmt.Errorf("%w: cavities lie on two sides of the runner, not as %v", ErrJob, a.Beside)
	case a.Beside[0] > j.Cavities || a.Beside[1] > j.Cavities-a.Beside[0]:
		return fmt.Errorf("%w: %d and %d cavities beside the runner are more than the mold's %d", ErrJob, a.Beside[0], a.Beside[1], j.Cavities)
	}
	return nil
}

// sideBySide shares the two streams out to the sides of the runner. They flow side by
// side: what branches off to the one side is taken from that edge of the runner, what
// goes to the other from the other edge, and what lies on its line gets the middle.
// What is left of a colour on its own side so crosses to the others, and all sides
// together get what the barrels give.
func (r recipe) sideBySide(ctx context.Context) (*SideBySide, error) {
	if r.Across == nil {
		return nil, nil
	}
	beside := r.Across.Beside
	s := &SideBySide{Assumed: beside == nil}
	if beside == nil {
		beside = []int{r.Cavities / 2, r.Cavities / 2}
	}
	middle := r.Cavities - beside[0] - beside[1]
	left, right := part(beside[0], r.Cavities), part(beside[1], r.Cavities)
	for _, side := range []Side{
		{Lies: fmt.Sprintf("on the side of the %s barrel", r.Injector.Barrels[0].Name), Cavities: beside[0], first: within01(r.shares[0] / left)},
		{Lies: "on the line of the runner", Cavities: middle, first: within01((r.shares[0] - left) / part(middle, r.Cavities))},
		{Lies: fmt.Sprintf("on the side of the %s barrel", r.Injector.Barrels[1].Name), Cavities: beside[1], first: within01((r.shares[0] - 1 + right) / right)},
	} {
		if side.Cavities == 0 {
			continue
		}
		for i, share := range []float64{side.first, 1 - side.first} {
			side.Colours = append(side.Colours, SideShare{r.Colours[i].Name, share})
			side.MassG += r.baitPartG(i, r.Fed) * share / r.shares[i]
			side.MassUnfedG += r.baitPartG(i, 0) * share / r.shares[i]
		}
		s.Sides = append(s.Sides, side)
	}
	if err := s.upright(ctx, r); err != nil {
		return nil, err
	}
	s.tell(r)
	return s, nil
}

func part(n, of int) float64 { return float64(n) / float64(of) }

// hairShare is what rounding leaves of a colour that is used up.
const hairShare = 1e-12

func within01(x float64) float64 {
	switch {
	case !(x > hairShare): // 0/0 of a side without cavities, too
		return 0
	case x > 1-hairShare:
		return 1
	}
	return x
}

// upright finds where the line stands in a bait on the runner's line: the streams
// part it into its right and its left.
func (s *SideBySide) upright(ctx context.Context, r recipe) error {
	for i := range s.Sides {
		side := &s.Sides[i]
		if r.Cavity == nil || side.Lies != "on the line of the runner" || !bothSeen(side.first) {
			continue
		}
		f, err := r.Cavity.Frame()
		if err != nil {
			return err
		}
		sheets, err := r.Cavity.Planes(f.Left)
		if err != nil {
			return err
		}
		at, err := sheets.HeightFor(ctx, side.first)
		if err != nil {
			return err
		}
		low, _ := sheets.Range()
		in := at - low
		side.UprightMM = &in
	}
	return nil
}

// tell puts it into words.
func (s *SideBySide) tell(r recipe) {
	var sides []string
	for i := range s.Sides {
		side := &s.Sides[i]
		side.Gets = side.gets()
		sides = append(sides, fmt.Sprintf("%d %s %s: %s", side.Cavities, cavityWord(side.Cavities), side.Lies, side.Gets))
	}
	s.Says = "no laminate: the plane between the streams stands across the parting face, so the colours flow side by side and not one over the other; " + strings.Join(sides, "; ")
	if s.Assumed && r.Cavities > 1 {
		s.Says += ". Where the cavities lie is assumed: say it with \"sides\" in the mold file"
	}
	half := r.Colours[0].Half
	s.Remedy = fmt.Sprintf("for a laminate turn the block a quarter, until the %s barrel's stream faces the %s, and take \"streams\" out of the mold file", r.Injector.Barrels[0].Name, cmp.Or(half, "half of "+r.Colours[0].Name))
}

func (s Side) gets() string {
	a, b := s.Colours[0], s.Colours[1]
	switch {
	case b.Share == 0:
		return "all " + a.Name
	case a.Share == 0:
		return "all " + b.Name
	}
	text := fmt.Sprintf("%s %s to %s", units.ShareText(a.Share), a.Name, b.Name)
	if s.UprightMM != nil {
		text += fmt.Sprintf(", the line upright from nose to tail, %s in from the %s side", units.Length(*s.UprightMM), a.Name)
	}
	return text
}

func cavityWord(n int) string {
	if n == 1 {
		return "cavity"
	}
	return "cavities"
}
