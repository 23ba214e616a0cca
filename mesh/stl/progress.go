package stl

import "sync"

// meter tells a caller how many bytes of a file are done. Workers share it.
type meter struct {
	mu     sync.Mutex
	done   int64
	total  int64
	report func(done, total int64)
}

// add counts n more bytes, which may have been read before: never more than the
// total. The caller's function is never entered twice at once.
func (m *meter) add(n int) {
	if m == nil || m.report == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.done += int64(n)
	if m.total > 0 {
		m.done = min(m.done, m.total)
	}
	m.report(m.done, m.total)
}
