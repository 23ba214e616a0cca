package hollow

import (
	"math"
)

// Picture is what a drawing of the parting face shows of the hollows' depths.
type Picture struct {
	StepMM float64   // depth of a band
	Bands  []float64 // depth at which each band begins, mm
	Runs   [][]Run   // of each band, of all hollows
}

// Run is a stretch of cells of one depth band, in the half's frame.
type Run struct{ XMM, YMM, LengthMM, HeightMM float64 } // its lower left corner and size

// mostRuns bounds how fine the picture is: about so many cells lie along the block.
const mostRuns = 400

// Picture sorts the depths of all hollows into bands of a round number of mm, as
// the cavities and runners need them: holes may be deeper than the last.
func (h *Half) Picture() Picture {
	deepest, holes := 0.0, 0.0
	for _, o := range h.Hollows {
		if o.Kind == Hole {
			holes = max(holes, o.DepthMM)
		} else {
			deepest = max(deepest, o.DepthMM)
		}
	}
	if deepest == 0 {
		deepest = holes
	}
	p := Picture{StepMM: roundStep(deepest / 8)}
	for z := 0.0; z < deepest*(1-1e-9); z += p.StepMM {
		p.Bands = append(p.Bands, z)
	}
	p.Runs = make([][]Run, len(p.Bands))
	cell := max(h.BlockMM[0], h.BlockMM[1]) / mostRuns
	for _, o := range h.Hollows {
		p.take(o.Depths, cell)
	}
	return p
}

// roundStep returns the next of 1, 2 or 5 times a power of ten.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= x*(1-1e-9) {
			return f * power
		}
	}
	return 10 * power
}

// take adds the runs of one hollow's grid, with cells of about the given size.
func (p *Picture) take(d *Depths, cell float64) {
	every := max(1, int(math.Round(cell/d.CellMM)))
	size := float64(every) * d.CellMM
	for j := every / 2; j < d.NY; j += every {
		from, band := 0, -1
		flush := func(to int) {
			if band >= 0 {
				p.Runs[band] = append(p.Runs[band], Run{
					XMM: d.AtMM[0] + float64(from)*d.CellMM - size/2, YMM: d.AtMM[1] + float64(j)*d.CellMM - size/2,
					LengthMM: float64(to-from) * d.CellMM, HeightMM: size,
				})
			}
		}
		i := every / 2
		for ; i < d.NX; i += every {
			now := -1
			if z := float64(d.MM[j*d.NX+i]); z > 0 {
				now = min(len(p.Bands)-1, int(z/p.StepMM))
			}
			if now != band {
				flush(i)
				from, band = i, now
			}
		}
		flush(i)
	}
}
