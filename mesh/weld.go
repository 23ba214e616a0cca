package mesh

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// corner holds the three coordinates of a facet's corner as the bits of their
// float32, minus zero as zero: corners are the same point exactly when these
// are equal.
type corner [3]uint32

// plusZero returns the bits of a float32 with minus zero made zero.
func plusZero(u uint32) uint32 {
	if u == 1<<31 {
		return 0
	}
	return u
}

// at returns the corner's position in millimetres.
func (c corner) at(unit Unit) r3.Vector {
	scale := float64(unit)
	return r3.Vector{
		X: float64(math.Float32frombits(c[0])) * scale,
		Y: float64(math.Float32frombits(c[1])) * scale,
		Z: float64(math.Float32frombits(c[2])) * scale,
	}
}

// tag mixes the corner's 96 bits into 32. The multiplication to 128 bits folded
// in half is that of wyhash (Wang Yi, 2019), the constants are those of the
// fraction of pi.
func (c corner) tag() uint32 {
	const (
		k0 = 0x243f6a8885a308d3
		k1 = 0x13198a2e03707344
		k2 = 0xa4093822299f31d1
	)
	high, low := bits.Mul64(uint64(c[0])|uint64(c[1])<<32^k0, uint64(c[2])^k1)
	return uint32((high ^ low) * k2 >> 32)
}

// welder numbers distinct corners in the order in which they first come.
// It is a hash table with open addressing.
type welder struct {
	// slots hold the high half of a corner's hash above its number plus one, 0
	// when free. The half that is kept tells nearly all different corners apart
	// without a look at points, and is enough to grow the table.
	slots  []uint64
	mask   uint32
	points []corner
}

// newWelder returns a welder with room for some corners before it must grow.
func newWelder(room int) *welder {
	size := 1 << bits.Len(uint(max(room, 24)*4/3))
	w := &welder{
		slots:  make([]uint64, size),
		mask:   uint32(size - 1),
		points: make([]corner, 0, room),
	}
	preferHugePages(w.slots)
	preferHugePages(w.points)
	return w
}

// add returns the number of corner c, a new one when it was not seen before.
func (w *welder) add(c corner) int32 { return w.addTagged(c, c.tag()) }

func (w *welder) addTagged(c corner, tag uint32) int32 {
	for i := tag & w.mask; ; i = (i + 1) & w.mask {
		slot := w.slots[i]
		if slot == 0 {
			w.points = append(w.points, c)
			w.slots[i] = uint64(tag)<<32 | uint64(len(w.points))
			if len(w.points)*4 > len(w.slots)*3 {
				w.grow()
			}
			return int32(len(w.points) - 1)
		}
		if uint32(slot>>32) == tag {
			if n := uint32(slot) - 1; w.points[n] == c {
				return int32(n)
			}
		}
	}
}

// find returns the number of corner c, or -1.
func (w *welder) find(c corner) int32 { return w.findTagged(c, c.tag()) }

func (w *welder) findTagged(c corner, tag uint32) int32 {
	for i := tag & w.mask; ; i = (i + 1) & w.mask {
		slot := w.slots[i]
		if slot == 0 {
			return -1
		}
		if uint32(slot>>32) == tag {
			if n := uint32(slot) - 1; w.points[n] == c {
				return int32(n)
			}
		}
	}
}

// batchCorners is how many corners are looked up together, a multiple of three.
const batchCorners = 192

// batch is a run of corners whose look-ups wait for memory together. A look-up
// in a large table waits some hundred nanoseconds for its slot; loads that do
// not depend on each other overlap, so all slots of a batch, and then the points
// that they name, are touched before the first is looked at.
type batch struct {
	corners [batchCorners]corner
	tags    [batchCorners]uint32
	numbers [batchCorners]uint32
	touched uint32 // keeps the loads from being left out
}

// touch loads what the first n corners will be looked for.
func (b *batch) touch(w *welder, n int) {
	slots, mask := w.slots, w.mask
	tags, numbers := b.tags[:n], b.numbers[:n]
	for i, tag := range tags {
		numbers[i] = uint32(slots[tag&mask])
	}
	touched := b.touched
	points := w.points
	for _, number := range numbers {
		if n := number - 1; int(n) < len(points) { // n wraps round for a free slot
			touched += points[n][0]
		}
	}
	b.touched = touched
}

// add welds the corners of the batch, three a triangle.
func (b *batch) add(w *welder, triangles [][3]int32) {
	b.touch(w, 3*len(triangles))
	for t := range triangles {
		corners, tags := (*[3]corner)(b.corners[3*t:]), (*[3]uint32)(b.tags[3*t:])
		triangles[t] = [3]int32{
			w.addTagged(corners[0], tags[0]),
			w.addTagged(corners[1], tags[1]),
			w.addTagged(corners[2], tags[2]),
		}
	}
}

// grow doubles the table. The order of points does not change.
func (w *welder) grow() {
	old := w.slots
	w.slots = make([]uint64, 2*len(old))
	preferHugePages(w.slots)
	w.mask = uint32(len(w.slots) - 1)
	for _, slot := range old {
		if slot == 0 {
			continue
		}
		i := uint32(slot>>32) & w.mask
		for w.slots[i] != 0 {
			i = (i + 1) & w.mask
		}
		w.slots[i] = slot
	}
}

// New welds corners, three a facet in millimetres, that agree exactly (minus
// zero is zero). Vertices come in the order in which they are first used. It is
// for models drawn by a program and for tests; the corners must be finite and
// at most 2^31-1, and their number a multiple of three.
func New(corners []r3.Vector) *Mesh {
	m := &Mesh{Triangles: make([][3]int32, len(corners)/3)}
	seen := make(map[r3.Vector]int32, len(corners)/6)
	for i, c := range corners {
		c = r3.Vector{X: c.X + 0, Y: c.Y + 0, Z: c.Z + 0} // -0 + 0 is 0
		n, ok := seen[c]
		if !ok {
			n = int32(len(m.Vertices))
			seen[c] = n
			m.Vertices = append(m.Vertices, c)
		}
		m.Triangles[i/3][i%3] = n
	}
	return m
}
