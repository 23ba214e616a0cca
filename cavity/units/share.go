package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ParseShare reads a share written as "0.4", "40 %" or "40/60" (this to the other).
func ParseShare(s string) (float64, error) {
	bad := fmt.Errorf("share %q: write it like 40/60, 40 %% or 0.4", s)
	t := strings.TrimSpace(s)
	number := func(t string) float64 {
		x, err := strconv.ParseFloat(strings.TrimSpace(t), 64)
		if err != nil || x < 0 || math.IsInf(x, 0) {
			return math.NaN()
		}
		return x
	}
	var share float64
	if a, b, ok := strings.Cut(t, "/"); ok {
		share = number(a) / (number(a) + number(b))
	} else if p, ok := strings.CutSuffix(t, "%"); ok {
		share = number(p) / 100
	} else {
		share = number(t)
	}
	if !(share >= 0 && share <= 1) {
		return 0, bad
	}
	return share, nil
}

// ShareText prints a share and the rest as "60/40".
func ShareText(share float64) string {
	a := math.Round(share * 100)
	if exact := share * 100; math.Abs(exact-a) > 0.05 {
		return fmt.Sprintf("%.1f/%.1f", exact, 100-exact)
	}
	return fmt.Sprintf("%.0f/%.0f", a, 100-a)
}
