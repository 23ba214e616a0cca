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

// SharesText prints shares that make 1 as "20/50/30", to tenths where one needs them.
func SharesText(shares []float64) string {
	digits := 0
	for _, s := range shares {
		if tenths := math.Round(s * 1000); math.Mod(tenths, 10) != 0 {
			digits = 1
		}
	}
	parts := make([]string, len(shares))
	for i, s := range shares {
		parts[i] = fmt.Sprintf("%.*f", digits, s*100)
	}
	return strings.Join(parts, "/")
}

// ParseShares reads shares of two colours or more, written as "20/50/30", that make
// 100, or 99.9 or 100.1 after rounding. They are returned to make 1.
func ParseShares(s string) ([]float64, error) {
	parts := strings.Split(strings.TrimSpace(s), "/")
	if len(parts) < 2 {
		return nil, fmt.Errorf("shares %q: write one for each colour, like 20/50/30", s)
	}
	shares, sum := make([]float64, len(parts)), 0.0
	for i, p := range parts {
		x, err := bareNumber(strings.TrimSpace(p))
		if err == nil && !(x > 0 && x < 100) {
			err = fmt.Errorf("every colour needs a share above nothing, not %s", strings.TrimSpace(p))
		}
		if err != nil {
			return nil, fmt.Errorf("shares %q: %w; write them like 20/50/30", s, err)
		}
		shares[i] = x
		sum += x
	}
	if math.Abs(sum-100) > 0.1001 {
		return nil, fmt.Errorf("shares %q: they make %.4g, and must make 100", s, sum)
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares, nil
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
