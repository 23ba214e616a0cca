package hollow

import "container/heap"

// queue gives the cheapest cell first.
type queue struct{ items queued }

type queued []struct {
	cell int
	cost float64
}

func (q queued) Len() int { return len(q) }
func (q queued) Less(i, j int) bool {
	return q[i].cost < q[j].cost || q[i].cost == q[j].cost && q[i].cell < q[j].cell
}
func (q queued) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queued) Push(x any) {
	*q = append(*q, x.(struct {
		cell int
		cost float64
	}))
}
func (q *queued) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}

func (q *queue) len() int { return len(q.items) }

func (q *queue) push(cell int, cost float64) {
	heap.Push(&q.items, struct {
		cell int
		cost float64
	}{cell, cost})
}

func (q *queue) pop() (cell int, cost float64) {
	it := heap.Pop(&q.items).(struct {
		cell int
		cost float64
	})
	return it.cell, it.cost
}
