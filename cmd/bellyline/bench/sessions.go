package bench

import (
	"crypto/rand"
	"slices"
	"sync"
)

// mostOpen is how many works stay open at once; the one that was used longest ago is
// let go for a new one. A tab has one.
const mostOpen = 12

// mostHeld is how many facets all open works may have together, at some 150 bytes a
// facet; the newest work stays whatever its size.
const mostHeld = 8_000_000

// sessions are the works that are open, by an id that cannot be guessed.
type sessions struct {
	mu    sync.Mutex
	works map[string]*work
	used  []string // ids, the one used last at the end
}

func newSessions() *sessions { return &sessions{works: map[string]*work{}} }

// add opens a work and returns its id.
func (s *sessions) add(w *work) string {
	id := rand.Text()
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(s.used) > 0 && (len(s.used) >= mostOpen || s.held()+w.facets() > mostHeld) {
		s.drop(s.used[0])
	}
	s.works[id] = w
	s.used = append(s.used, id)
	return id
}

// get returns an open work, or nil.
func (s *sessions) get(id string) *work {
	s.mu.Lock()
	defer s.mu.Unlock()
	w := s.works[id]
	if i := slices.Index(s.used, id); i >= 0 {
		s.used = append(slices.Delete(s.used, i, i+1), id)
	}
	return w
}

// close lets a work go.
func (s *sessions) close(id string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(id)
}

func (s *sessions) drop(id string) {
	delete(s.works, id)
	if i := slices.Index(s.used, id); i >= 0 {
		s.used = slices.Delete(s.used, i, i+1)
	}
}

func (s *sessions) held() int {
	n := 0
	for _, w := range s.works {
		n += w.facets()
	}
	return n
}

// facets is how large a work is.
func (w *work) facets() int {
	switch {
	case w.Measured != nil:
		return w.Measured.Triangles
	case w.Job.Cavity != nil:
		return len(w.Job.Cavity.Mesh.Triangles)
	case w.Half != nil:
		return w.Half.Triangles
	}
	return 0
}
