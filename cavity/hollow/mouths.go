package hollow

import (
	"github.com/golang/geo/r2"
)

// mouth is where a hollow leaves through a side of the block, seen from above:
// the hollow lies to the left of the line from a to b.
type mouth struct{ a, b r2.Point }

// mouths returns the openings of a piece in the block's sides.
func (v *view) mouths(p *piece) []mouth {
	var list []mouth
	for _, l := range p.loops {
		atSide := func(i int) bool {
			what, _ := v.beyond(l[(i+len(l))%len(l)])
			return what == upright || what == sloped
		}
		for i := range l {
			if !atSide(i) || atSide(i-1) {
				continue
			}
			k := i
			for atSide(k) && k < i+len(l) {
				k++
			}
			a, _ := v.side(l[i])
			b, _ := v.side(l[k%len(l)])
			if m := (mouth{v.plan(a), v.plan(b)}); m.b.Sub(m.a).Norm() > 0 {
				list = append(list, m)
			}
		}
	}
	return list
}

// beyondMouths returns depths as if the hollow went on through its mouths, so that
// there is no wall there, and the cells at each mouth.
func (d *Depths) beyondMouths(mouths []mouth) (depths []float32, cells [][]int) {
	depths = append([]float32(nil), d.MM...)
	for _, m := range mouths {
		along := m.b.Sub(m.a)
		width := along.Norm()
		along = along.Mul(1 / width)
		out := r2.Point{X: along.Y, Y: -along.X}
		var at []int
		for i := range d.MM {
			p := d.middle(i).Sub(m.a)
			across := p.Dot(out)
			if x := p.Dot(along); x < 0 || x > width || across > width || across < -2*d.CellMM {
				continue
			}
			switch {
			case d.MM[i] > 0:
				at = append(at, i)
			case across > -d.CellMM:
				if o := d.cellAt(d.middle(i).Sub(out.Mul(across + 1.5*d.CellMM))); o >= 0 {
					depths[i] = d.MM[o]
				}
			}
		}
		cells = append(cells, at)
	}
	return depths, cells
}
