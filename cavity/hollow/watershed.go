package hollow

import (
	"math"
	"slices"

	"bellyline/mesh/radix"
)

// neckRatio is how much less clearance a neck has than the smaller of the two
// places that it joins. A runner's gate has a tenth to a half; a body that only
// tapers, or a runner that bends, has no neck.
const neckRatio = 0.62

// basin is a part of a hollow between necks.
type basin struct {
	peak      int     // the cell of the most clearance
	clearance float64 // there, mm
	volume    float64 // about, mm3
	way       bool    // plastic comes in here: it is open at a side or at the back
}

// neck is where two basins meet.
type neck struct {
	a, b      int // basins
	saddle    int // the cell of the most clearance between them
	clearance float64
}

// basins is a hollow parted at its necks: for each cell the basin, -1 outside.
type basins struct {
	d     *Depths
	c     []float32
	of    []int32
	list  []basin
	necks []neck
}

// partAtNecks floods a hollow from the places of most clearance down. Where two
// floods meet, they are one basin if the clearance there is at least neckRatio of
// the smaller one's most. Each way is the cells of one open end of a hollow: beyond it
// is all the clearance in the world, so a channel that gets no wider before it
// meets a cavity ends in a neck as well. The cost is a sort by counting and a few
// looks at each cell.
func partAtNecks(d *Depths, c []float32, ways [][]int) *basins {
	b := &basins{d: d, c: c, of: make([]int32, len(d.MM))}
	most := slices.Max(c)
	height := slices.Clone(c)
	var wide [][]int
	for _, way := range ways {
		open := float32(0)
		for _, i := range way {
			open = max(open, c[i])
		}
		if open == 0 || open < leastWay*most {
			continue
		}
		wide = append(wide, way)
		for _, i := range way {
			height[i] = 2 * most
		}
	}
	f := flood{basins: b, height: height}
	f.run(2 * most)
	f.name(wide)
	b.findNecks()
	return b
}

// leastWay is the clearance of an open end, as part of the hollow's most, from
// which plastic may come in there. What is less is a vent.
const leastWay = 0.1

// flood is the union of cells in the order of their clearance.
type flood struct {
	*basins
	height []float32
	parent []int32 // of each flood
	peak   []int32 // its first cell
}

func (f *flood) root(i int32) int32 {
	for f.parent[i] != i {
		f.parent[i] = f.parent[f.parent[i]]
		i = f.parent[i]
	}
	return i
}

func (f *flood) run(most float32) {
	for i := range f.of {
		f.of[i] = none
	}
	for _, cell := range falling(f.height, most) {
		into := none
		f.around(int(cell), func(o int) {
			if f.of[o] == none {
				return
			}
			r := f.root(f.of[o])
			if into == none {
				into = r
				return
			}
			if r == into {
				return
			}
			small := r
			if f.height[f.peak[r]] > f.height[f.peak[into]] {
				into, small = r, into
			}
			if float64(f.height[cell]) >= neckRatio*float64(f.height[f.peak[small]]) {
				f.parent[small] = into
			}
		})
		if into == none {
			into = int32(len(f.parent))
			f.parent = append(f.parent, into)
			f.peak = append(f.peak, cell)
		}
		f.of[cell] = into
	}
}

// around visits the eight neighbours of a cell that lie inside.
func (b *basins) around(cell int, visit func(int)) {
	x, y := cell%b.d.NX, cell/b.d.NX
	for j := max(0, y-1); j <= min(b.d.NY-1, y+1); j++ {
		for i := max(0, x-1); i <= min(b.d.NX-1, x+1); i++ {
			if o := j*b.d.NX + i; o != cell && b.d.MM[o] > 0 {
				visit(o)
			}
		}
	}
}

// falling returns the cells inside, the highest first: in steps so fine that floods
// cannot tell them apart.
func falling(height []float32, most float32) []int32 {
	const bits = 15
	const lowest = 1<<bits - 1
	var inside []uint64
	for i, h := range height {
		if h > 0 {
			inside = append(inside, radix.Keyed(uint32(lowest-min(lowest, int(h/most*lowest))), i))
		}
	}
	cells := make([]int32, len(inside))
	for i, k := range radix.Sort(inside, bits) {
		cells[i] = radix.Item(k)
	}
	return cells
}

// name numbers what is left of the floods and measures them.
func (f *flood) name(ways [][]int) {
	number := map[int32]int32{}
	cell := f.d.CellMM * f.d.CellMM
	for i, o := range f.of {
		if o == none {
			continue
		}
		r := f.root(o)
		n, known := number[r]
		if !known {
			n = int32(len(f.list))
			number[r] = n
			f.list = append(f.list, basin{})
		}
		f.of[i] = n
		b := &f.list[n]
		b.volume += float64(f.d.MM[i]) * cell
		if c := float64(f.c[i]); c > b.clearance {
			b.peak, b.clearance = i, c
		}
	}
	for _, way := range ways {
		for _, i := range way {
			if n := f.of[i]; n != none {
				f.list[n].way = true
			}
		}
	}
}

// findNecks finds where basins touch: one neck for each connected stretch.
func (b *basins) findNecks() {
	type border struct{ a, b int32 }
	cells := map[border][]int{}
	var order []border
	for i, n := range b.of {
		if n == none {
			continue
		}
		b.around(i, func(o int) {
			if m := b.of[o]; m > n {
				k := border{n, m}
				if _, known := cells[k]; !known {
					order = append(order, k)
				}
				if l := cells[k]; len(l) == 0 || l[len(l)-1] != i {
					cells[k] = append(l, i)
				}
			}
		})
	}
	for _, k := range order {
		for _, stretch := range b.connectedCells(cells[k]) {
			best := stretch[0]
			for _, i := range stretch {
				if b.c[i] > b.c[best] {
					best = i
				}
			}
			// Across a neck the border goes from wall to wall. Where three basins meet, two
			// that have no neck between them may touch at a point.
			const wallToWall = 1.2 // of the clearance; twice it for straight walls
			if n := (neck{a: int(k.a), b: int(k.b), saddle: best, clearance: float64(b.c[best])}); b.extent(stretch) >= wallToWall*n.clearance {
				b.necks = append(b.necks, n)
			}
		}
	}
}

// extent is the diagonal of the box round some cells, in mm.
func (b *basins) extent(cells []int) float64 {
	x0, y0, x1, y1 := b.d.NX, b.d.NY, 0, 0
	for _, i := range cells {
		x, y := i%b.d.NX, i/b.d.NX
		x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
	}
	return math.Hypot(float64(x1-x0+1), float64(y1-y0+1)) * b.d.CellMM
}

// connectedCells parts cells into those that are next to each other, a cell or
// two between them allowed.
func (b *basins) connectedCells(cells []int) [][]int {
	const near = 3
	left := map[int]bool{}
	for _, c := range cells {
		left[c] = true
	}
	var out [][]int
	for _, first := range cells {
		if !left[first] {
			continue
		}
		delete(left, first)
		group := []int{first}
		for k := 0; k < len(group); k++ {
			x, y := group[k]%b.d.NX, group[k]/b.d.NX
			for j := y - near; j <= y+near; j++ {
				for i := x - near; i <= x+near; i++ {
					if o := j*b.d.NX + i; i >= 0 && i < b.d.NX && left[o] {
						delete(left, o)
						group = append(group, o)
					}
				}
			}
		}
		out = append(out, group)
	}
	return out
}

// path returns the cells of a way from a neck into a basin that keeps to where the
// clearance is (Dijkstra). It ends at the first cell with the given clearance, or
// far from the neck: a straight channel has no such cell. It is nil if there is
// none.
func (b *basins) path(from int, basin int32, clearance, far float64) []int {
	cost := make(map[int]float64)
	back := map[int]int{from: -1}
	done := map[int]bool{}
	q := &queue{}
	cost[from] = 0
	q.push(from, 0)
	to := -1
	for q.len() > 0 {
		i, at := q.pop()
		if done[i] {
			continue
		}
		done[i] = true
		if b.of[i] == basin && (float64(b.c[i]) >= clearance || b.d.middle(i).Sub(b.d.middle(from)).Norm() >= far) {
			to = i
			break
		}
		b.around(i, func(o int) {
			if b.of[o] != basin || done[o] {
				return
			}
			step := 1.0
			if i%b.d.NX != o%b.d.NX && i/b.d.NX != o/b.d.NX {
				step = math.Sqrt2
			}
			c := float64(b.c[o]) / b.d.CellMM
			next := at + step/(c*c)
			if old, known := cost[o]; !known || next < old {
				cost[o], back[o] = next, i
				q.push(o, next)
			}
		})
	}
	var way []int
	for i := to; i >= 0; i = back[i] {
		way = append(way, i)
	}
	slices.Reverse(way)
	return way
}
