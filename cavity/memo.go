package cavity

import "sync"

// memo keeps answers: a line is asked for again and again where only the other
// numbers of a job change, and where shells overlap each answer is three fills of
// the whole. It is safe for several goroutines.
type memo struct {
	mu       sync.Mutex
	sections map[float64]Section // by height
	levels   map[float64]Level   // by height
	belows   map[float64]float64 // by height
	heights  map[float64]float64 // by share
}

// mostKept is how many answers stay; more are let go at once.
const mostKept = 256

func newMemo() *memo {
	return &memo{sections: map[float64]Section{}, levels: map[float64]Level{}, belows: map[float64]float64{}, heights: map[float64]float64{}}
}

// recall returns a kept answer, or works it out and keeps it.
func recall[T any](m *memo, kept map[float64]T, key float64, work func() (T, error)) (T, error) {
	m.mu.Lock()
	v, ok := kept[key]
	m.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := work()
	if err != nil {
		return v, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(kept) >= mostKept {
		clear(kept)
	}
	kept[key] = v
	return v, nil
}
