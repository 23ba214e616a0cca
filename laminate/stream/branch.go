package stream

import (
	"math"

	"github.com/golang/geo/r2"
)

// parcel is a small part of a section and the flow through it.
type parcel struct {
	at          r2.Point
	below, back float64
}

// branch gives each piece that p feeds its share of p's colours. Where there is
// more than one, each draws the flow that its volume needs from those parts of p's
// section that are nearest to it: a fin on the back gets back, twin tails side by
// side get both. Flow of each colour is conserved.
func (n *network) branch(p *piece, ratio float64) error {
	var ways []*feed
	total := 0.0
	for _, q := range p.links {
		for i := range q.feeds {
			if q.feeds[i].from == p {
				ways = append(ways, &q.feeds[i])
				total += q.feeds[i].volume
			}
		}
	}
	backs := make([]float64, len(ways))
	for i := range backs {
		backs[i] = p.back
	}
	if len(ways) > 1 && p.shared() {
		if err := p.part(ratio); err != nil {
			return err
		}
		if err := n.allot(p, ways, backs, total); err != nil {
			return err
		}
	}
	i := 0
	for _, q := range p.links {
		for k := range q.feeds {
			if q.feeds[k].from == p {
				q.feeds[k].back = backs[i]
				q.carries += p.carries * q.feeds[k].volume / total
				i++
			}
		}
	}
	return nil
}

// leastStream is the share of a flow below which a colour is not there.
const leastStream = 1e-3

// shared tells whether both colours flow through a piece.
func (p *piece) shared() bool { return p.back > leastStream && p.back < 1-leastStream }

func (p *piece) part(ratio float64) (err error) {
	if p.parting == nil && p.shared() {
		p.parting, err = p.solver.parting(1-p.back, ratio)
	}
	return err
}

// allot fills in the back shares of the ways out of p. A parcel goes to the way
// with the least distance plus weight; weights are set so that every way gets its
// part of the flow.
func (n *network) allot(p *piece, ways []*feed, backs []float64, total float64) error {
	parcels, flow := p.parcels()
	outlets := n.outlets(p)
	far := make([][]float64, len(ways))
	for i, o := range outlets {
		edges := o.solver.edges
		for _, c := range parcels {
			far[i] = append(far[i], -signedDistance(edges, c.at))
		}
	}
	weights := make([]float64, len(ways))
	size := p.solver.section.Bounds().Size().Norm()
	for range 4 {
		for i := range ways {
			goal := flow * ways[i].volume / total
			weights[i] = bisectNear(-2*size, 2*size, 1e-6*size, func(w float64) bool {
				weights[i] = w
				got, _ := taken(parcels, far, weights, i)
				return got > goal
			})
		}
	}
	for i := range ways {
		if got, back := taken(parcels, far, weights, i); got > 0 {
			backs[i] = back / got
		}
	}
	settle(ways, backs, p.back*total)
	return nil
}

// settle spreads what whole parcels leave over, so that no colour is lost: over the
// ways that still have room for it.
func settle(ways []*feed, backs []float64, want float64) {
	for range len(ways) + 1 {
		missing, room := want, 0.0
		for i, w := range ways {
			missing -= backs[i] * w.volume
		}
		for i, w := range ways {
			if missing > 0 && backs[i] < 1 || missing < 0 && backs[i] > 0 {
				room += w.volume
			}
		}
		if missing == 0 || room == 0 {
			return
		}
		for i := range ways {
			if missing > 0 && backs[i] < 1 || missing < 0 && backs[i] > 0 {
				backs[i] = max(0, min(1, backs[i]+missing/room))
			}
		}
	}
}

func bisectNear(lo, hi, near float64, below func(float64) bool) float64 {
	for hi-lo > near {
		if mid := lo + (hi-lo)/2; below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}

// taken sums the parcels that are nearest to way i, and the back's part of them.
func taken(parcels []parcel, far [][]float64, weights []float64, i int) (flow, back float64) {
	for k, c := range parcels {
		best := math.Inf(1)
		for j := range far {
			if j != i {
				best = min(best, far[j][k]+weights[j])
			}
		}
		if far[i][k]+weights[i] < best {
			flow += c.below + c.back
			back += c.back
		}
	}
	return flow, back
}

// outlets lists the pieces that p feeds, in the order of branch's ways.
func (n *network) outlets(p *piece) []*piece {
	var list []*piece
	for _, q := range p.links {
		for i := range q.feeds {
			if q.feeds[i].from == p {
				list = append(list, q)
			}
		}
	}
	return list
}

// parcels cuts the flow of a section at the knots of its profiles and at the line.
func (p *piece) parcels() (list []parcel, total float64) {
	for i := range p.parting.Flow.profiles {
		line := &p.parting.Flow.profiles[i]
		for k := range line.bends {
			lo, hi := line.y[k], line.y[k+1]
			split := max(lo, min(hi, p.parting.HeightMM))
			all, low := line.piece(k, hi-lo), line.piece(k, split-lo)
			if !(all > 0) {
				continue
			}
			list = append(list, parcel{r2.Point{X: line.x, Y: (lo + hi) / 2}, low, all - low})
			total += all
		}
	}
	return list, total
}
