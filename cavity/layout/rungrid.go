package layout

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// runGrid is the inside of an outline in square cells, with how far plastic runs to
// each.
type runGrid struct {
	low        r2.Point
	step       float64
	wide, tall int
	inside     []bool
	run        []float64 // infinite where plastic does not come
}

// newRunGrid fills what loops wind round; cells that the outline passes through
// are inside, so that nothing thin is lost.
func newRunGrid(loops [][]r2.Point, step float64) *runGrid {
	box := r2.EmptyRect()
	for _, loop := range loops {
		for _, p := range loop {
			box = box.AddPoint(p)
		}
	}
	const most = 4000 // cells a side: the outline is not that of a bait
	if box.IsEmpty() || !(step > 0) || max(box.X.Length(), box.Y.Length())/step > most {
		return nil
	}
	g := &runGrid{low: box.Lo().Sub(r2.Point{X: step, Y: step}), step: step}
	g.wide, g.tall = int(box.X.Length()/step)+3, int(box.Y.Length()/step)+3
	g.inside = make([]bool, g.wide*g.tall)
	for j := range g.tall {
		y := g.low.Y + (float64(j)+0.5)*step
		cuts := crossings(loops, y)
		winding, k := 0, 0
		for i := range g.wide {
			for x := g.low.X + (float64(i)+0.5)*step; k < len(cuts) && cuts[k].x <= x; k++ {
				winding += cuts[k].turn
			}
			g.inside[j*g.wide+i] = winding != 0
		}
	}
	for _, loop := range loops {
		for i, a := range loop {
			ab := loop[(i+1)%len(loop)].Sub(a)
			n := int(math.Ceil(2 * ab.Norm() / step))
			for k := range n + 1 {
				g.inside[g.cell(a.Add(ab.Mul(float64(k)/float64(max(n, 1)))))] = true
			}
		}
	}
	return g
}

// crossing is where a loop crosses a level line, and which way.
type crossing struct {
	x    float64
	turn int
}

// crossings of a level line by loops, from left to right.
func crossings(loops [][]r2.Point, y float64) []crossing {
	var cuts []crossing
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if (a.Y <= y) == (b.Y <= y) {
				continue
			}
			turn := 1
			if a.Y > y {
				turn = -1
			}
			cuts = append(cuts, crossing{a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), turn})
		}
	}
	slices.SortFunc(cuts, func(a, b crossing) int { return cmp.Or(cmp.Compare(a.x, b.x), a.turn-b.turn) })
	return cuts
}

// windsRound tells whether loops wind round a place.
func windsRound(loops [][]r2.Point, p r2.Point) bool {
	winding := 0
	for _, c := range crossings(loops, p.Y) {
		if c.x <= p.X {
			winding += c.turn
		}
	}
	return winding != 0
}

func (g *runGrid) cell(p r2.Point) int {
	i, j := int((p.X-g.low.X)/g.step), int((p.Y-g.low.Y)/g.step)
	return min(max(j, 0), g.tall-1)*g.wide + min(max(i, 0), g.wide-1)
}

func (g *runGrid) centre(cell int) r2.Point {
	return g.low.Add(r2.Point{X: float64(cell%g.wide) + 0.5, Y: float64(cell/g.wide) + 0.5}.Mul(g.step))
}

// neighbours calls f with the cells round one and how far they are.
func (g *runGrid) neighbours(cell int, f func(cell int, away float64)) {
	x, y := cell%g.wide, cell/g.wide
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			i, j := x+dx, y+dy
			if dx == 0 && dy == 0 || i < 0 || j < 0 || i >= g.wide || j >= g.tall {
				continue
			}
			f(j*g.wide+i, math.Hypot(float64(dx), float64(dy))*g.step)
		}
	}
}

// flood measures how far each cell inside is from the one nearest to a place
// (Dijkstra, A note on two problems in connexion with graphs, Numer. Math. 1 (1959) 269).
// Along a slant the eight ways overstate a run by up to 8 %.
func (g *runGrid) flood(from r2.Point) {
	g.run = make([]float64, len(g.inside))
	start, away := -1, math.Inf(1)
	for c, in := range g.inside {
		g.run[c] = math.Inf(1)
		if d := g.centre(c).Sub(from).Norm(); in && d < away {
			start, away = c, d
		}
	}
	if start < 0 {
		return
	}
	g.run[start] = away
	queue := &runQueue{{start, away}}
	for queue.Len() > 0 {
		at := heap.Pop(queue).(runCell)
		if at.run > g.run[at.cell] {
			continue
		}
		g.neighbours(at.cell, func(c int, step float64) {
			if r := at.run + step; g.inside[c] && r < g.run[c] {
				g.run[c] = r
				heap.Push(queue, runCell{c, r})
			}
		})
	}
}

// ends returns the cells that are local ends of the run and stand out by at least so
// much: cells are taken from the farthest on, and a lake that meets a farther one has
// stood out by how far it fell until then.
func (g *runGrid) ends(leastMM float64) []int {
	var order []int
	for c := range g.run {
		if !math.IsInf(g.run[c], 1) {
			order = append(order, c)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case g.run[a] > g.run[b]:
			return -1
		case g.run[a] < g.run[b]:
			return 1
		}
		return a - b
	})
	lake := map[int]int{} // cell -> a cell of its lake nearer to the top
	top := func(c int) int {
		for lake[c] != c {
			lake[c] = lake[lake[c]]
			c = lake[c]
		}
		return c
	}
	var ends []int
	for i, c := range order {
		lake[c] = c
		g.neighbours(c, func(n int, _ float64) {
			if _, wet := lake[n]; !wet {
				return
			}
			a, b := top(n), top(c)
			if a == b {
				return
			}
			far, near := a, b
			if g.run[near] > g.run[far] {
				far, near = near, far
			}
			if g.run[near]-g.run[c] >= leastMM {
				ends = append(ends, near)
			}
			lake[near] = far
		})
		if i == len(order)-1 {
			ends = append(ends, top(c))
		}
	}
	return ends
}

// within returns the cells inside that lie round one.
func (g *runGrid) within(cell int, reach float64) []int {
	var list []int
	n := int(reach / g.step)
	x, y := cell%g.wide, cell/g.wide
	for j := max(y-n, 0); j <= min(y+n, g.tall-1); j++ {
		for i := max(x-n, 0); i <= min(x+n, g.wide-1); i++ {
			c := j*g.wide + i
			if g.inside[c] && math.Hypot(float64(i-x), float64(j-y))*g.step <= reach && g.run[cell]-g.run[c] <= 2*reach && !math.IsInf(g.run[c], 1) {
				list = append(list, c)
			}
		}
	}
	return list
}

type runCell struct {
	cell int
	run  float64
}

// runQueue is a heap of cells, nearest first.
type runQueue []runCell

func (q runQueue) Len() int { return len(q) }
func (q runQueue) Less(i, j int) bool {
	return q[i].run < q[j].run || q[i].run == q[j].run && q[i].cell < q[j].cell
}
func (q runQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }

// Push and Pop are for container/heap.
func (q *runQueue) Push(x any) { *q = append(*q, x.(runCell)) }

// Pop takes the last cell.
func (q *runQueue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}
