// Package weld numbers corners that are the same point, or nearly so.
package weld

import (
	"math/bits"

	"bellyline/mesh/internal/hugepages"
)

// Corner holds the three coordinates of a facet's corner as the bits of their
// float32, minus zero as zero: corners are the same point exactly when these
// are equal.
type Corner [3]uint32

// PlusZero returns the bits of a float32 with minus zero made zero.
func PlusZero(u uint32) uint32 {
	if u == 1<<31 {
		return 0
	}
	return u
}

// Tag mixes the corner's 96 bits into 32.
func (c *Corner) Tag() uint32 { return TagOf(c[0], c[1], c[2]) }

// TagOf is the tag of the corner x, y, z. The multiplication to 128 bits folded in
// half is that of wyhash (Wang Yi, 2019), the constants are digits of pi.
func TagOf(x, y, z uint32) uint32 {
	const (
		k0 = 0x243f6a8885a308d3
		k1 = 0x13198a2e03707344
		k2 = 0xa4093822299f31d1
	)
	high, low := bits.Mul64(uint64(x)|uint64(y)<<32^k0, uint64(z)^k1)
	return uint32((high ^ low) * k2 >> 32)
}

// Welder numbers distinct corners in the order in which they first come.
// It is a hash table with open addressing.
type Welder struct {
	// slots hold the high half of a corner's hash above its number plus one, 0
	// when free. The half that is kept tells nearly all different corners apart
	// without a look at points, and is enough to grow the table.
	slots  []uint64
	mask   uint32
	Points []Corner
}

// NewWelder returns a welder with room for some corners before it must grow.
func NewWelder(corners int) *Welder {
	size := 1 << bits.Len(uint(max(corners, 24)*4/3))
	w := &Welder{
		slots:  hugepages.Make[uint64](size),
		mask:   uint32(size - 1),
		Points: hugepages.Make[Corner](corners)[:0],
	}
	return w
}

// Add returns the number of corner c, a new one when it was not seen before.
func (w *Welder) Add(c Corner) int32 {
	tag := c.Tag()
	for i := tag & w.mask; ; i = (i + 1) & w.mask {
		slot := w.slots[i]
		if slot == 0 {
			return int32(w.insert(&c, tag, i))
		}
		if uint32(slot>>32) == tag {
			if n := uint32(slot) - 1; w.Points[n] == c {
				return int32(n)
			}
		}
	}
}

// insert puts corner c, which is not in the table, into the free slot i.
func (w *Welder) insert(c *Corner, tag, i uint32) (number uint32) {
	number = uint32(len(w.Points))
	w.Points = append(w.Points, *c)
	w.slots[i] = uint64(tag)<<32 | uint64(number+1)
	if len(w.Points)*4 > len(w.slots)*3 {
		w.grow()
	}
	return number
}

// find returns the number of corner c, or -1.
func (w *Welder) find(c Corner) int32 { return w.FindTagged(&c, c.Tag()) }

// FindTagged returns the number of corner c, whose tag is given, or -1.
func (w *Welder) FindTagged(c *Corner, tag uint32) int32 {
	for i := tag & w.mask; ; i = (i + 1) & w.mask {
		slot := w.slots[i]
		if slot == 0 {
			return -1
		}
		if uint32(slot>>32) == tag {
			if n := uint32(slot) - 1; w.Points[n] == *c {
				return int32(n)
			}
		}
	}
}

// BatchCorners is how many corners are looked up together, a multiple of three.
const BatchCorners = 192

// Batch is a run of corners whose look-ups wait for memory together. A look-up
// in a large table waits some hundred nanoseconds for its slot; loads that do
// not depend on each other overlap, so all slots of a batch, and then the points
// that they name, are touched before the first is looked at.
type Batch struct {
	Corners [BatchCorners]Corner
	Tags    [BatchCorners]uint32
	numbers [BatchCorners]uint32
	// seen holds tags of late with the numbers of their points, which are those of
	// most corners of most files. They need no slot, and without them in between
	// more loads overlap.
	seen    [1 << 13]seenTag
	cold    [BatchCorners]uint32 // tags that are not among them
	touched uint32               // keeps the loads from being left out
}

type seenTag struct {
	tag    uint32
	number uint32 // of the point, or notYet
}

// notYet is no number of a point.
const notYet = 1<<32 - 1

// Touch loads what the first n corners will be looked for.
func (b *Batch) Touch(w *Welder, n int) {
	cold := 0
	for _, tag := range b.Tags[:n] {
		b.cold[cold] = tag
		if seen := &b.seen[tag%uint32(len(b.seen))]; seen.tag != tag {
			*seen = seenTag{tag, notYet}
			cold++
		}
	}
	slots, mask, points := w.slots, w.mask, w.Points
	numbers := b.numbers[:cold]
	for i, tag := range b.cold[:cold] {
		numbers[i] = uint32(slots[tag&mask])
	}
	if !far(numbers, len(points)) {
		return
	}
	touched := b.touched
	for _, number := range numbers {
		if i := number - 1; int(i) < len(points) { // wraps round for a free slot
			touched += points[i][0]
		}
	}
	b.touched = touched
}

// far reports whether some of the numbers, of which it looks at a few, are of
// points that came so long ago that the cache will have lost them. In most files
// facets follow their neighbours.
func far(numbers []uint32, points int) bool {
	const recent = 1 << 14
	for i := 0; i < len(numbers); i += 1 + len(numbers)/8 {
		if number := int(numbers[i]); number > 0 && number < points-recent {
			return true
		}
	}
	return false
}

// Add welds the corners of the batch, three a triangle.
func (b *Batch) Add(w *Welder, triangles [][3]int32) {
	n := 3 * len(triangles)
	b.Touch(w, n)
	tags, corners, numbers := b.Tags[:n], b.Corners[:n], b.numbers[:n]
	slots, mask, points := w.slots, w.mask, w.Points
	for k, tag := range tags { // as welder.add, without its calls
		seen := &b.seen[tag%uint32(len(b.seen))]
		if n := seen.number; seen.tag == tag && int(n) < len(points) && points[n] == corners[k] {
			numbers[k] = n
			continue
		}
		for i := tag & mask; ; i = (i + 1) & mask {
			slot := slots[i]
			if slot == 0 {
				numbers[k] = w.insert(&corners[k], tag, i)
				slots, mask, points = w.slots, w.mask, w.Points
				break
			}
			if number := uint32(slot) - 1; uint32(slot>>32) == tag && points[number] == corners[k] {
				numbers[k] = number
				break
			}
		}
		*seen = seenTag{tag, numbers[k]}
	}
	for t := range triangles {
		corner := (*[3]uint32)(numbers[3*t:])
		triangles[t] = [3]int32{int32(corner[0]), int32(corner[1]), int32(corner[2])}
	}
}

// grow doubles the table. The order of points does not change.
func (w *Welder) grow() {
	old := w.slots
	w.slots = hugepages.Make[uint64](2 * len(old))
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
