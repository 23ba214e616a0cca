package files

import (
	"fmt"
	"strings"
)

// ParseBaits reads a number of baits, or of packs of so many baits each, like "4 packs".
func ParseBaits(t string, inPack int) (int, error) {
	for _, word := range []string{"packs", "pack"} {
		packs, ok := strings.CutSuffix(strings.TrimSpace(t), word)
		if !ok {
			continue
		}
		if inPack < 1 {
			return 0, fmt.Errorf("%q: how many baits are in a pack? add pack: 10", t)
		}
		n, err := count(1, mostBaits/inPack)(strings.TrimSpace(packs))
		return n * inPack, err
	}
	return count(1, mostBaits)(t)
}
