package stream

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// ErrApart is wrapped for a model in parts that do not hang together.
var ErrApart = errors.New("the model is not one bait")

// ErrNoSection is returned for a cavity that no station cuts.
var ErrNoSection = errors.New("no station cuts the cavity")

// network is all pieces of all stations, in the order in which they are fed.
type network struct {
	stations []station
	pieces   []*piece
	root     *piece
}

// connect finds whence each piece is filled: by the neighbours that are one step
// nearer to the gate, whichever way they lie. A part that points back towards the
// gate is thus filled from where it hangs on.
//
// Along a drawn path each station's piece is filled by the one before it.
func connect(ctx context.Context, stations []station, onPath bool) (*network, error) {
	n := &network{stations: stations}
	if onPath {
		n.chain()
	} else if err := n.overlap(ctx); err != nil {
		return nil, err
	}
	if n.root = largest(stations); n.root == nil {
		return nil, ErrNoSection
	}
	n.reach(n.root, 0)
	n.adopt()
	if err := n.whole(); err != nil {
		return nil, err
	}
	n.demand()
	return n, nil
}

// chain links the pieces of one station after another.
func (n *network) chain() {
	var last *piece
	for _, s := range n.stations {
		for _, p := range s.pieces {
			if last != nil {
				tie(last, p)
			}
			last = p
		}
	}
}

func tie(a, b *piece) { a.links, b.links = append(a.links, b), append(b.links, a) }

// overlap links pieces of neighbouring stations that have plastic in common.
func (n *network) overlap(ctx context.Context) error {
	pairs := make([][][2]*piece, max(0, len(n.stations)-1))
	err := forEach(ctx, len(pairs), func(i int) error {
		for _, a := range n.stations[i].pieces {
			for _, b := range n.stations[i+1].pieces {
				if a.solver.section.meets(b.solver.section) {
					pairs[i] = append(pairs[i], [2]*piece{a, b})
				}
			}
		}
		return nil
	})
	for _, list := range pairs {
		for _, pair := range list {
			tie(pair[0], pair[1])
		}
	}
	return err
}

// largest is the largest piece of the first station that has one: the gate's.
func largest(stations []station) *piece {
	for _, s := range stations {
		if len(s.pieces) > 0 {
			return s.main()
		}
	}
	return nil
}

// main is the largest piece of a station.
func (s *station) main() *piece {
	return slices.MaxFunc(s.pieces, func(a, b *piece) int { return cmp.Compare(a.solver.area, b.solver.area) })
}

// reach numbers all pieces that hang on one by their steps from the gate.
func (n *network) reach(from *piece, depth int) {
	from.depth = depth
	n.pieces = append(n.pieces, from)
	for i := len(n.pieces) - 1; i < len(n.pieces); i++ {
		p := n.pieces[i]
		for _, q := range p.links {
			if q.depth < 0 {
				q.depth = p.depth + 1
				n.pieces = append(n.pieces, q)
			}
		}
	}
}

// adoptWithin is how many station lengths apart two pieces may lie and still hang
// together between the stations.
const adoptWithin = 2

// adopt joins what no section shows to hang on, since stations are too far apart,
// to the nearest piece next to it.
func (n *network) adopt() {
	for {
		var lost, host *piece
		best := adoptWithin * n.stations[0].length
		for i, s := range n.stations {
			for _, p := range s.pieces {
				if p.depth >= 0 {
					continue
				}
				for j := max(0, i-1); j <= min(len(n.stations)-1, i+1); j++ {
					for _, q := range n.stations[j].pieces {
						if q.depth < 0 {
							continue
						}
						if d := gap(p.solver.section, q.solver.section); d < best {
							lost, host, best = p, q, d
						}
					}
				}
			}
		}
		if lost == nil {
			break
		}
		tie(lost, host)
		n.reach(lost, host.depth+1)
	}
	slices.SortStableFunc(n.pieces, func(a, b *piece) int { return a.depth - b.depth })
}

// gap is how far the boxes around two sections lie apart.
func gap(a, b Section) float64 {
	p, q := a.Bounds(), b.Bounds()
	dx := max(0, p.X.Lo-q.X.Hi, q.X.Lo-p.X.Hi)
	dy := max(0, p.Y.Lo-q.Y.Hi, q.Y.Lo-p.Y.Hi)
	return math.Hypot(dx, dy)
}

// whole tells whether the gate feeds every piece.
func (n *network) whole() error {
	for _, s := range n.stations {
		for _, p := range s.pieces {
			if p.depth < 0 {
				return fmt.Errorf("%w: what lies at %.1f mm hangs on nothing that the gate feeds; give one bait, or more stations", ErrApart, s.x)
			}
		}
	}
	return nil
}

// demand works out the volume that must pass each piece: what lies beyond it and
// its own slice. A piece fed from several sides takes from each by its area.
func (n *network) demand() {
	for _, p := range slices.Backward(n.pieces) {
		p.needs += p.volume(n.stations)
		area := 0.0
		for _, q := range p.links {
			if q.depth == p.depth-1 {
				area += q.solver.area
			}
		}
		for _, q := range p.links {
			if q.depth == p.depth-1 {
				volume := p.needs * q.solver.area / area
				p.feeds = append(p.feeds, feed{from: q, volume: volume})
				q.needs += volume
			}
		}
	}
}

// share follows the colours from the gate on: back is their share at the gate.
func (n *network) share(back, ratio float64) error {
	n.root.back, n.root.carries = back, 1
	for _, p := range n.pieces {
		if p != n.root {
			p.mixFeeds()
		}
		if err := n.branch(p, ratio); err != nil {
			return err
		}
	}
	return nil
}

// mixFeeds adds up what comes into a piece.
func (p *piece) mixFeeds() {
	total, back := 0.0, 0.0
	for _, f := range p.feeds {
		total += f.volume
		back += f.volume * f.back
	}
	if total > 0 {
		p.back = back / total
	}
}
