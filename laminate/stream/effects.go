package stream

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Effect is what one slip at the bench does to the line of this bait.
type Effect struct {
	Key    string  `json:"key"`
	What   string  `json:"what"`
	By     string  `json:"by"`      // how large the slip is
	LineMM float64 `json:"line_mm"` // mean rise of the line; of a twist, on the one side of the skin
	MostMM float64 `json:"most_mm"` // where it is largest
}

// Agreement is how drawing and barrels come to agree.
type Agreement struct {
	LineMM   *float64 `json:"line_mm"`   // draw the line here: the mean of where this delivery lands
	BackFeed *float64 `json:"back_feed"` // or deliver this: the line then lies as drawn, in the mean
}

// The slips that are compared. Common practice, no source: what a careful bench
// still gets wrong.
const (
	slipBore  = 0.02 // of a bore's diameter
	slipStart = 2.0  // mm that one plunger is ahead
	slipTwist = 5.0  // degrees
	slipPush  = 0.10 // of a plunger's push
	slipC     = 10.0 // degrees C
)

// mostProbes is how many stations stand for the bait where each costs solutions.
const mostProbes = 9

// probes are the main pieces of some stations, spread evenly, in which both colours flow.
func (n *network) probes() []*piece {
	var all []*piece
	for i := range n.stations {
		if s := &n.stations[i]; len(s.pieces) > 0 {
			if p := s.main(); p.parting != nil {
				all = append(all, p)
			}
		}
	}
	if len(all) <= mostProbes {
		return all
	}
	var some []*piece
	for i := range mostProbes {
		some = append(some, all[(2*i+1)*len(all)/(2*mostProbes)])
	}
	return some
}

// odds multiplies the odds of a share.
func odds(share, by float64) float64 {
	o := share / (1 - share) * by
	return o / (1 + o)
}

// moved returns the heights of the line at the probes when the odds of the back's
// share and the ratio of viscosities are multiplied.
func moved(ctx context.Context, probes []*piece, ratio, byOdds, byRatio float64) ([]float64, error) {
	heights := make([]float64, len(probes))
	err := forEach(ctx, len(probes), func(i int) error {
		p, err := probes[i].solver.parting(1-odds(probes[i].back, byOdds), ratio*byRatio)
		if err != nil {
			return err
		}
		heights[i] = p.HeightMM
		return nil
	})
	return heights, err
}

// sensitivities works out effects, band and agreement.
func (r *Result) sensitivities(ctx context.Context, n *network, c *cavity.Cavity, cond Conditions) error {
	probes := n.probes()
	if len(probes) == 0 {
		return nil
	}
	shot := c.FillMM3 * float64(cond.Cavities)
	for _, d := range r.Runner {
		shot += d.VolumeMM3
	}
	ahead := slipStart * math.Pi / 4 * cond.BoreMM * cond.BoreMM
	colder, err := cond.Activation.RatioAt(cond.MeltC-slipC, cond.MeltC)
	if err != nil {
		return err
	}
	coldOdds := 1.0
	if cond.Hand {
		coldOdds = 1 / colder.Back
	}
	for _, e := range []struct {
		key, what, by string
		odds, ratio   float64
	}{
		{"bores", "bores differ", fmt.Sprintf("the back's %.0f %% wider", slipBore*100), (1 + slipBore) * (1 + slipBore), 1},
		{"start", "plungers start unequal", fmt.Sprintf("the back's %.0f mm ahead in a %s bore", slipStart, units.Length(cond.BoreMM)), 1 + ahead/(cond.BackFeed*shot), 1},
		{"push", "one of two handles is pushed harder", fmt.Sprintf("the back's by %.0f %%", slipPush*100), 1 + slipPush, 1},
		{"temperature", "colours not equally hot", fmt.Sprintf("the back %s colder", units.DifferenceText(slipC)), coldOdds, colder.Back},
	} {
		heights, err := moved(ctx, probes, cond.Ratio.Back, e.odds, e.ratio)
		if err != nil {
			return err
		}
		r.Effects = append(r.Effects, shiftOf(n, probes, heights, e.key, e.what, e.by))
	}
	r.Effects = append(r.Effects, twist(n, probes))
	slices.SortStableFunc(r.Effects, func(a, b Effect) int { return cmp.Compare(math.Abs(b.LineMM), math.Abs(a.LineMM)) })
	if err := r.band(ctx, n, probes, cond); err != nil {
		return err
	}
	return r.agree(ctx, n, probes, cond)
}

func shiftOf(n *network, probes []*piece, heights []float64, key, what, by string) Effect {
	e := Effect{Key: key, What: what, By: by}
	var m mean
	for i, p := range probes {
		d := heights[i] - p.parting.HeightMM
		m.add(d, p.volume(n.stations))
		if math.Abs(d) > math.Abs(e.MostMM) {
			e.MostMM = d
		}
	}
	e.LineMM = m.value()
	return e
}

// twist turns the plane between the streams: on the skin the line rises on one
// side by half its width times the tangent, and falls as much on the other.
func twist(n *network, probes []*piece) Effect {
	e := Effect{Key: "twist", What: "block twisted", By: fmt.Sprintf("a %.0f-degree twist; up on one side, down on the other", slipTwist)}
	var m mean
	for _, p := range probes {
		half := p.widthAt(p.parting.HeightMM) / 2
		d := half * math.Tan(slipTwist*math.Pi/180)
		m.add(d, p.volume(n.stations))
		e.MostMM = max(e.MostMM, d)
	}
	e.LineMM = m.value()
	return e
}

// widthAt is the way from the first to the last wall on the level line at a height.
func (p *piece) widthAt(height float64) float64 {
	spans := scanRows(p.solver.edges, lattice{origin: height - 0.5, step: 1, count: 1})[0]
	if len(spans) == 0 {
		return 0
	}
	return spans[len(spans)-1].hi - spans[0].lo
}

// band finds the line for the least and the largest ratio of viscosities at the
// probes, and between them by how far it lies off as part of the section's height.
func (r *Result) band(ctx context.Context, n *network, probes []*piece, cond Conditions) error {
	if cond.Ratio.Low == cond.Ratio.High {
		return nil
	}
	var parts [2][]float64
	for i, ratio := range [2]float64{cond.Ratio.Low, cond.Ratio.High} {
		by := 1.0
		if cond.Hand {
			by = cond.Ratio.Back / ratio
		}
		heights, err := moved(ctx, probes, ratio, by, 1)
		if err != nil {
			return err
		}
		for k, p := range probes {
			parts[i] = append(parts[i], (heights[k]-p.parting.HeightMM)/(p.solver.high-p.solver.low))
		}
	}
	for i := range r.Stations {
		s := &r.Stations[i]
		if s.LineMM == nil {
			continue
		}
		tall := s.HighMM - s.LowMM
		a := *s.LineMM + tall*between(n, probes, parts[0], s.XMM)
		b := *s.LineMM + tall*between(n, probes, parts[1], s.XMM)
		lo, hi := min(a, b), max(a, b)
		s.LineLowMM, s.LineHighMM = &lo, &hi
	}
	return nil
}

// between interpolates values at the probes, and takes the nearest past the ends.
func between(n *network, probes []*piece, values []float64, x float64) float64 {
	for i := range len(probes) - 1 {
		a, b := n.stations[probes[i].station].x, n.stations[probes[i+1].station].x
		if t := (x - a) / (b - a); t >= 0 && t <= 1 {
			return values[i] + t*(values[i+1]-values[i])
		}
	}
	first := n.stations[probes[0].station].x
	last := n.stations[probes[len(probes)-1].station].x
	if math.Abs(x-first) < math.Abs(x-last) {
		return values[0]
	}
	return values[len(values)-1]
}

// agree finds the delivery with which the line would lie as drawn, in the mean: the
// mean of the shares that pass above the drawn height.
func (r *Result) agree(ctx context.Context, n *network, probes []*piece, cond Conditions) error {
	r.Agree.LineMM = r.MeanMM
	shares := make([]float64, len(probes))
	err := forEach(ctx, len(probes), func(i int) error {
		v := probes[i].solver
		shares[i] = math.NaN()
		if !(r.DrawnMM > v.low && r.DrawnMM < v.high) {
			return nil
		}
		below, above, err := v.streamsAt(r.DrawnMM, cond.Ratio.Back)
		shares[i] = above / (below + above)
		return err
	})
	if err != nil {
		return err
	}
	var m mean
	for i, p := range probes {
		if !math.IsNaN(shares[i]) {
			m.add(shares[i], p.volume(n.stations))
		}
	}
	if m.weight > 0 {
		feed := m.value()
		r.Agree.BackFeed = &feed
	}
	return nil
}

// streamsAt returns both flows for an interface at a height.
func (v *solver) streamsAt(height, ratio float64) (below, above float64, err error) {
	if ratio == 1 {
		one, err := v.oneFluid()
		if err != nil {
			return 0, 0, err
		}
		below = one.below(height)
		return below, one.TotalMM4 - below, nil
	}
	f, err := v.flow(Interface{HeightMM: height}, viscosities{1, ratio})
	if err != nil {
		return 0, 0, err
	}
	below, above = f.Streams()
	return below, above, nil
}
