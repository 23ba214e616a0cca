package stl

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"bellyline/mesh"
	"bellyline/mesh/internal/weld"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
	"github.com/hschendel/stl"
)

// ErrUnwritable is wrapped when a mesh does not fit into an STL file.
var ErrUnwritable = errors.New("cannot be written as STL")

// WriteFile writes m as binary STL in millimetres to path. The file is written
// beside its place and renamed, so that nothing half-written is ever left
// there. The name goes into the header. See Write for what rounding does.
func WriteFile(path, name string, m *mesh.Mesh) (err error) {
	file, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			file.Close() // closed already or not: the file goes
			os.Remove(file.Name())
			err = fmt.Errorf("write %s: %w", path, err)
		}
	}()
	if err := Write(file, name, m); err != nil {
		return err
	}
	if err := file.Chmod(0o644); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return err
	}
	return os.Rename(file.Name(), path)
}

// Write writes m as binary STL in millimetres.
//
// STL keeps float32, so points that were apart may fall together. A facet that
// is left with two equal corners is dropped, and so are two facets that have
// come to lie on each other back to back: what the others enclose stays closed
// if m was. The error wraps ErrUnwritable when a coordinate is beyond float32,
// when there are more than 2^32-1 facets, and when no facet is left: readers
// refuse such a file.
func Write(w io.Writer, name string, m *mesh.Mesh) error {
	r, err := roundedOf(m)
	if err != nil {
		return err
	}
	solid := stl.Solid{BinaryHeader: header(name), Triangles: make([]stl.Triangle, 0, len(m.Triangles))}
	for _, t := range r.facets() {
		a, b, c := r.vec3(t[0]), r.vec3(t[1]), r.vec3(t[2])
		solid.Triangles = append(solid.Triangles, stl.Triangle{Normal: normal32(a, b, c), Vertices: [3]stl.Vec3{a, b, c}})
	}
	switch n := uint64(len(solid.Triangles)); {
	case n == 0:
		return fmt.Errorf("%w: no facet is left of %d", ErrUnwritable, len(m.Triangles))
	case n > math.MaxUint32:
		return fmt.Errorf("%w: %d facets", ErrUnwritable, n)
	}
	buffer := bufio.NewWriterSize(w, 1<<16)
	if err := solid.WriteAll(buffer); err != nil {
		return err
	}
	return buffer.Flush()
}

// header returns a name fit for the 80 bytes before the facets: without control
// characters, and not beginning like an ASCII file.
func header(name string) []byte {
	const room = 80
	clean := strings.TrimSpace(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, "")))
	if strings.HasPrefix(strings.ToLower(clean), "solid") {
		clean = "binary " + clean
	}
	if len(clean) > room {
		clean = strings.ToValidUTF8(clean[:room], "")
	}
	return []byte(clean)
}

// roundedMesh is a mesh with its vertices as float32, equal ones welded.
type roundedMesh struct {
	m      *mesh.Mesh
	points []weld.Corner
	number []int32 // of a vertex's point
	merged []bool  // whether several vertices have the point
}

func roundedOf(m *mesh.Mesh) (*roundedMesh, error) {
	r := &roundedMesh{m: m, number: make([]int32, len(m.Vertices)), merged: make([]bool, len(m.Vertices))}
	w := weld.NewWelder(len(m.Vertices))
	for i, v := range m.Vertices {
		x, y, z := float32(v.X), float32(v.Y), float32(v.Z)
		if !vector.Finite(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}) {
			return nil, fmt.Errorf("%w: vertex (%g, %g, %g)", ErrUnwritable, v.X, v.Y, v.Z)
		}
		known := len(w.Points)
		n := w.Add(weld.Corner{weld.PlusZero(math.Float32bits(x)), weld.PlusZero(math.Float32bits(y)), weld.PlusZero(math.Float32bits(z))})
		r.number[i] = n
		r.merged[n] = r.merged[n] || int(n) < known
	}
	r.points = w.Points
	return r, nil
}

// vec3 returns point n.
func (r *roundedMesh) vec3(n int32) stl.Vec3 {
	c := r.points[n]
	return stl.Vec3{math.Float32frombits(c[0]), math.Float32frombits(c[1]), math.Float32frombits(c[2])}
}

// facets returns the facets to write, by numbers of points.
func (r *roundedMesh) facets() [][3]int32 {
	facets := make([][3]int32, 0, len(r.m.Triangles))
	var touched []int32 // facets that may have fallen on another one
	for _, t := range r.m.Triangles {
		t = [3]int32{r.number[t[0]], r.number[t[1]], r.number[t[2]]}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		if r.merged[t[0]] || r.merged[t[1]] || r.merged[t[2]] {
			touched = append(touched, int32(len(facets)))
		}
		facets = append(facets, t)
	}
	return dropFolds(facets, touched)
}

// dropFolds takes out pairs of facets that have the same corners and face
// opposite ways, among those named.
func dropFolds(facets [][3]int32, among []int32) [][3]int32 {
	if len(among) == 0 {
		return facets
	}
	waiting := make(map[[3]int32][]int32) // facets without a partner, by corners as they run
	drop := make(map[int32]bool)
	for _, i := range among {
		t := lowestFirst(facets[i])
		back := [3]int32{t[0], t[2], t[1]}
		if w := waiting[back]; len(w) > 0 {
			drop[i], drop[w[len(w)-1]] = true, true
			waiting[back] = w[:len(w)-1]
			continue
		}
		waiting[t] = append(waiting[t], i)
	}
	kept := facets[:0]
	for i, t := range facets {
		if !drop[int32(i)] {
			kept = append(kept, t)
		}
	}
	return kept
}

// lowestFirst returns the facet beginning with its lowest vertex.
func lowestFirst(t [3]int32) [3]int32 {
	switch min(t[0], t[1], t[2]) {
	case t[1]:
		return [3]int32{t[1], t[2], t[0]}
	case t[2]:
		return [3]int32{t[2], t[0], t[1]}
	}
	return t
}

// normal32 returns the facet's normal, zero when it has none.
func normal32(a, b, c stl.Vec3) stl.Vec3 {
	v := func(p stl.Vec3) r3.Vector {
		return r3.Vector{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
	}
	n, ok := vector.Unit(v(b).Sub(v(a)).Cross(v(c).Sub(v(a))))
	if !ok {
		return stl.Vec3{}
	}
	return stl.Vec3{float32(n.X), float32(n.Y), float32(n.Z)}
}
