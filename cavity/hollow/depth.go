package hollow

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Depths is a hollow seen from above: depths below its rim on a square grid. It
// serves to find necks and to draw, not to measure: what lies under an overhang
// is not seen.
type Depths struct {
	AtMM   [2]float64 // the middle of the first cell in the half's frame
	CellMM float64
	NX, NY int
	MM     []float32 // NX to a row; 0 outside
}

// gridFor lays a grid over a piece with some cells around it. The longest side
// gets the given number of cells.
func (v *view) gridFor(p *piece, cells int) *Depths {
	box := v.box(v.frame, p.facets)
	lo, size := box.Min, box.Size()
	cell := max(size.X, size.Y) / float64(cells)
	const around = 3
	d := &Depths{CellMM: cell}
	d.AtMM = [2]float64{lo.X - (around-0.5)*cell, lo.Y - (around-0.5)*cell}
	d.NX = int(size.X/cell) + 2*around + 1
	d.NY = int(size.Y/cell) + 2*around + 1
	d.MM = make([]float32, d.NX*d.NY)
	return d
}

// depths looks at a piece from above. The cells that are seen through are listed.
func (v *view) depths(p *piece, cells int) (seen *Depths, through []int) {
	d := v.gridFor(p, cells)
	floor := make([]float32, len(d.MM)) // depth of what is seen first, 0 where nothing is
	for _, t := range p.facets {
		if v.normals[t].Dot(v.pull) > 0 {
			v.rasterize(d, floor, t, p.rimMM)
		}
	}
	thickness := float32(p.rimMM - p.low)
	d.fill(v.openings(p), func(i int) {
		switch {
		case floor[i] > 0:
			d.MM[i] = floor[i]
		case p.rim.far > 0:
			d.MM[i] = thickness
			through = append(through, i)
		case p.rim.slopes > 0: // under the slope there is the open side
			d.MM[i] = thickness
		default:
			d.MM[i] = float32(v.tol) // rounding at the rim
		}
	})
	return d, through
}

// rasterize writes a facet's depth into the cells whose middles it covers, unless
// something higher is there.
func (v *view) rasterize(d *Depths, floor []float32, t int32, rim float64) {
	c := v.mesh.Triangles[t]
	var x, y, z [3]float64
	for i, k := range c {
		p := v.frame.To(v.mesh.Vertices[k])
		x[i], y[i], z[i] = (p.X-d.AtMM[0])/d.CellMM, (p.Y-d.AtMM[1])/d.CellMM, rim-v.z[k]
	}
	twice := (x[1]-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(y[1]-y[0])
	if !(twice > 0) {
		return
	}
	j0, j1 := max(0, int(math.Ceil(min(y[0], y[1], y[2])))), min(d.NY-1, int(math.Floor(max(y[0], y[1], y[2]))))
	i0, i1 := max(0, int(math.Ceil(min(x[0], x[1], x[2])))), min(d.NX-1, int(math.Floor(max(x[0], x[1], x[2]))))
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			px, py := float64(i), float64(j)
			a := ((x[1]-px)*(y[2]-py) - (x[2]-px)*(y[1]-py)) / twice
			b := ((x[2]-px)*(y[0]-py) - (x[0]-px)*(y[2]-py)) / twice
			if e := 1 - a - b; min(a, b, e) >= -1e-9 { // no cell falls between two facets
				depth := float32(a*z[0] + b*z[1] + e*z[2])
				at := j*d.NX + i
				if depth > 0 && (floor[at] == 0 || depth < floor[at]) {
					floor[at] = depth
				}
			}
		}
	}
}

// openings returns the outlines of a piece in the parting faces, in the frame,
// those of islands included.
func (v *view) openings(p *piece) [][]r2.Point {
	var list [][]r2.Point
	for _, l := range p.loops {
		for _, s := range v.stretches(l) {
			if s.what != up {
				continue
			}
			var polygon []r2.Point
			for _, c := range s.corners {
				polygon = append(polygon, v.plan(c))
			}
			list = append(list, polygon)
		}
	}
	return list
}

// plan returns a corner seen from above.
func (v *view) plan(c int32) r2.Point {
	p := v.frame.To(v.mesh.Vertices[c])
	return r2.Point{X: p.X, Y: p.Y}
}

// fill visits the cells whose middles lie inside polygons, by the even-odd rule.
func (d *Depths) fill(polygons [][]r2.Point, visit func(cell int)) {
	crossings := make([][]float64, d.NY)
	for _, polygon := range polygons {
		for i, a := range polygon {
			b := polygon[(i+1)%len(polygon)]
			ay, by := (a.Y-d.AtMM[1])/d.CellMM, (b.Y-d.AtMM[1])/d.CellMM
			for j := max(0, int(math.Ceil(min(ay, by)))); j < d.NY && float64(j) < max(ay, by); j++ {
				x := a.X + (b.X-a.X)*(float64(j)-ay)/(by-ay)
				crossings[j] = append(crossings[j], (x-d.AtMM[0])/d.CellMM)
			}
		}
	}
	for j, row := range crossings {
		slices.Sort(row)
		for k := 0; k+1 < len(row); k += 2 {
			for i := max(0, int(math.Ceil(row[k]))); i < d.NX && float64(i) <= row[k+1]; i++ {
				visit(j*d.NX + i)
			}
		}
	}
}

// middle returns the middle of a cell in the frame.
func (d *Depths) middle(cell int) r2.Point {
	return r2.Point{X: d.AtMM[0] + float64(cell%d.NX)*d.CellMM, Y: d.AtMM[1] + float64(cell/d.NX)*d.CellMM}
}

// cellAt returns the cell at a place of the frame, -1 off the grid.
func (d *Depths) cellAt(p r2.Point) int {
	i, j := int(math.Round((p.X-d.AtMM[0])/d.CellMM)), int(math.Round((p.Y-d.AtMM[1])/d.CellMM))
	if i < 0 || j < 0 || i >= d.NX || j >= d.NY {
		return -1
	}
	return j*d.NX + i
}
