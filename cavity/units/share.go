package units

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// ErrShare is returned for a share that is not between none and all.
var ErrShare = errors.New("a share is from 0 to 1, or from 0 to 100 %")

// ErrShareSum is returned for "1/2", which is a half to one reader and one part
// to two to the next. Two shares that make 100 cannot be misread.
var ErrShareSum = errors.New("the two shares must make 100")

// ParseShare reads a share written as "0.4", "40 %" or "40/60" (this to the other,
// and both make 100, or 99.9 or 100.1 after rounding).
func ParseShare(s string) (float64, error) {
	share, err := parseShare(strings.ToLower(strings.TrimSpace(s)))
	if err == nil && !(share >= 0 && share <= 1) {
		err = ErrShare
	}
	if err != nil {
		return 0, fmt.Errorf("share %q: %w; write it like 40/60, 40 %% or 0.4", s, err)
	}
	return share, nil
}

func parseShare(s string) (float64, error) {
	if this, other, ok := strings.Cut(s, "/"); ok {
		a, err := bareNumber(this)
		if err != nil {
			return 0, err
		}
		b, err := bareNumber(other)
		if err != nil {
			return 0, err
		}
		if math.Abs(a+b-100) > 0.1001 {
			return 0, ErrShareSum
		}
		return a / (a + b), nil
	}
	if percent, ok := strings.CutSuffix(s, "%"); ok {
		x, err := bareNumber(percent)
		return x / 100, err
	}
	return bareNumber(s)
}

// bareNumber reads a number without a unit.
func bareNumber(s string) (float64, error) {
	x, word, err := splitNumber(s)
	if err == nil && word != "" {
		return 0, ErrBadNumber
	}
	return x, err
}

// ShareText prints a share and the rest as "60/40", or "33.3/66.7". The two make
// 100 as printed. A share beside nothing or all is shown as "0.1/99.9", never as 0/100.
func ShareText(share float64) string {
	tenths := math.Round(share * 1000)
	switch {
	case share > 0 && tenths == 0:
		tenths = 1
	case share < 1 && tenths == 1000:
		tenths = 999
	}
	if math.Mod(tenths, 10) == 0 {
		return fmt.Sprintf("%.0f/%.0f", tenths/10, 100-tenths/10)
	}
	return fmt.Sprintf("%.1f/%.1f", tenths/10, (1000-tenths)/10)
}
