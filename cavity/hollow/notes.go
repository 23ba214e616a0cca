package hollow

import "fmt"

func (h *Half) warn(format string, args ...any) {
	h.Warnings = append(h.Warnings, fmt.Sprintf(format, args...))
}

// warnOfPieces tells of what is neither hollow nor parting face.
func (h *Half) warnOfPieces(pieces []*piece) {
	count := map[role]int{}
	volume := map[role]float64{}
	for _, p := range pieces {
		r := h.view.roleOf(p)
		count[r]++
		volume[r] += p.volume
	}
	if n := count[raised]; n > 0 {
		h.warn("%d %s up from the parting face, %.1f mm3 in all: pins, or inserts that reach into the other half", n, map[bool]string{true: "place stands", false: "places stand"}[n == 1], -volume[raised])
	}
	if n := count[void]; n > 0 {
		h.warn("%d closed %s inside the block, which opens nowhere and is left out", n, map[bool]string{true: "void", false: "voids"}[n == 1])
	}
	if len(h.LevelsMM) > 1 {
		h.warn("the parting face has %d levels; each hollow is measured from its own", len(h.LevelsMM))
	}
}
