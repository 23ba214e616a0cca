package stream

import (
	"context"
	"runtime"
	"sync"

	"github.com/golang/geo/r2"

	"bellyline/cavity"
	"bellyline/mesh"
)

// station is a slice of the cavity with the pieces of its middle section.
type station struct {
	x, length float64 // place along nose, thickness of the slice
	pieces    []*piece
}

// piece is a connected part of a station's section and what flows through it.
type piece struct {
	solver  *solver
	station int
	links   []*piece // neighbours in the stations next to it
	depth   int      // steps from the gate, -1 while not reached
	feeds   []feed   // whence it is filled
	needs   float64  // volume that passes it, its own slice included, mm3
	carries float64  // share of the whole flow that goes through it
	back    float64  // back's share of that flow
	parting *Parting // nil where one colour is alone
}

// feed is one way into a piece.
type feed struct {
	from   *piece
	volume float64
	back   float64 // back's share of it
}

func (p *piece) volume(all []station) float64 { return p.solver.area * all[p.station].length }

// thinnest is the inscribed circle below which a sliver of a section, where a
// plane grazes the skin, is left out, in mm.
const thinnest = 1e-3

// cutStations cuts a cavity at every place of the way. Cost: one cut each.
func cutStations(ctx context.Context, c *cavity.Cavity, ways []way, opts Options) ([]station, error) {
	all := make([]station, len(ways))
	err := forEach(ctx, len(ways), func(i int) error {
		w := ways[i]
		all[i] = station{x: w.x, length: w.length}
		section, err := w.section(c.Mesh)
		if err != nil {
			return err
		}
		for _, s := range w.pick(section.pieces()) {
			if s.InscribedMM() < thinnest {
				continue
			}
			v, err := newSolver(s, opts)
			if err != nil {
				return err
			}
			all[i].pieces = append(all[i].pieces, &piece{solver: v, station: i, depth: -1})
		}
		return nil
	})
	return all, err
}

func (w way) section(m *mesh.Mesh) (Section, error) {
	cut, err := m.Cut(w.plane)
	if err != nil {
		return Section{}, err
	}
	var s Section
	for _, loop := range cut.Loops {
		flat := make([]r2.Point, len(loop))
		for i, v := range loop {
			flat[i] = w.point(v)
		}
		s.Loops = append(s.Loops, flat)
	}
	return s, nil
}

// forEach works through 0..n-1 on all processors and returns the error of the
// lowest number.
func forEach(ctx context.Context, n int, work func(int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := range next {
				if errs[i] = ctx.Err(); errs[i] == nil {
					errs[i] = work(i)
				}
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
