package hollow

import (
	"fmt"
	"math"
)

// Two hollows show the same side of the same bait when one can be laid on the
// other by turning it in the plane. These are far above what facets do to a
// smooth surface and far below what tells baits apart.
const (
	sameVolume = 0.01  // of the larger
	sameShape  = 0.004 // root of the mean square distance, of the hollow's size
)

// same says whether a shape can be laid on another by turning it in the plane.
func same(a, b *shape) bool { return like(a, b, false) }

// like says whether a shape, or its mirror image, can be laid on another one.
func like(a, b *shape, mirrored bool) bool {
	if math.Abs(a.volume-b.volume) > sameVolume*max(a.volume, b.volume) {
		return false
	}
	near := sameShape * max(a.size, b.size)
	p, off := fit(a, b, mirrored, near)
	return off <= near && p.back().off(b, a) <= near
}

// back is the placing that undoes one.
func (p placing) back() placing {
	turn := -p.turn
	if p.mirrored {
		turn = p.turn
	}
	return placing{turn: turn, mirrored: p.mirrored, from: p.to, to: p.from}
}

// compareCavities finds which cavities are the same bait.
func (h *Half) compareCavities() {
	var leaders []int // the first cavity of each group
	groups := map[int][]int{}
	shapes := h.cavityShapes()
	for i, o := range h.Hollows {
		if o.Kind != Cavity {
			continue
		}
		leader := i
		for _, l := range leaders {
			if same(shapes[i], shapes[l]) {
				leader = l
				break
			}
		}
		if leader == i {
			leaders = append(leaders, i)
		}
		groups[leader] = append(groups[leader], i+1)
	}
	for k, l := range leaders {
		h.Alike = append(h.Alike, groups[l])
		for _, m := range leaders[:k] {
			if like(shapes[l], shapes[m], true) {
				h.Mirrored = append(h.Mirrored, [2]int{m + 1, l + 1})
				h.warn("%s of %s: if they are the two sides of one bait, a two-colour shot makes them with colours swapped, since each colour stays with its half of the mold",
					mirrorText(groups[l]), IDsText(groups[m]))
			}
		}
	}
}

func mirrorText(ids []int) string {
	if len(ids) == 1 {
		return fmt.Sprintf("cavity %d is a mirror image", ids[0])
	}
	return fmt.Sprintf("cavities %s are mirror images", IDsText(ids))
}

// cavityShapes returns the shapes of the cavities by their place in the list.
func (h *Half) cavityShapes() map[int]*shape {
	if h.shapes == nil {
		h.shapes = map[int]*shape{}
		for i, o := range h.Hollows {
			if o.Kind == Cavity {
				h.shapes[i] = h.shapeOf(i)
			}
		}
	}
	return h.shapes
}

// IDsText lists numbers in words: "1, 2 and 3".
func IDsText(list []int) string {
	text := ""
	for i, n := range list {
		switch {
		case i == 0:
		case i == len(list)-1:
			text += " and "
		default:
			text += ", "
		}
		text += fmt.Sprint(n)
	}
	return text
}

// warnOfStack tells of what upsets two colours that lie on each other.
func (h *Half) warnOfStack() {
	for _, o := range h.Hollows {
		if o.Kind == Runner && o.Through {
			h.warn("runner %d goes through the block: in a two-colour mold a sprue through the face brings both colours in through one half, so that they do not lie one in each", o.ID)
		}
	}
}
