package units

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// The things that can be wrong with a written measure.
var (
	ErrNoNumber    = errors.New("no number")
	ErrNoUnit      = errors.New("no unit")
	ErrUnknownUnit = errors.New("unknown unit")
	ErrNegative    = errors.New("must not be negative")
	ErrTooLarge    = errors.New("too large to be meant")
)

// largest is past anything at a bench (1e9 mL is a thousand tonnes) and keeps
// nonsense such as 1e308 from turning into an infinity later.
const largest = 1e9

// parseMeasure reads a number and a unit, or several joined by "+". A part
// without a unit takes the next part's: "1/4 + 1/8 tsp".
func parseMeasure(s string, words map[string]float64) (float64, error) {
	parts := strings.Split(s, "+")
	total, scale := 0.0, 0.0
	for i := len(parts) - 1; i >= 0; i-- {
		number, word := splitNumber(parts[i])
		x, err := parseNumber(number)
		if err != nil {
			return 0, err
		}
		if word != "" {
			known, ok := words[word]
			if !ok {
				return 0, fmt.Errorf("%w %q (known: %s)", ErrUnknownUnit, word, strings.Join(shortWords(words), ", "))
			}
			scale = known
		}
		if scale == 0 {
			return 0, ErrNoUnit
		}
		total += x * scale
	}
	if total > largest {
		return 0, ErrTooLarge
	}
	return total, nil
}

// splitNumber parts "1 1/2 cups" into "1 1/2" and "cups", lower case, single spaces.
func splitNumber(s string) (number, word string) {
	s = strings.Join(strings.Fields(strings.ToLower(s)), " ")
	end := strings.IndexFunc(s, func(r rune) bool {
		return !strings.ContainsRune("0123456789./ -", r)
	})
	if end < 0 {
		return s, ""
	}
	// "1e3" is a number, "1 egg" is not.
	if s[end] == 'e' {
		if _, err := strconv.ParseFloat(strings.Fields(s)[0], 64); err == nil && !strings.Contains(s[:end], " ") {
			f := strings.Fields(s)
			return f[0], strings.Join(f[1:], " ")
		}
	}
	return strings.TrimSpace(s[:end]), strings.TrimSpace(s[end:])
}

// parseNumber reads "2", "2.5", "1/4", "1 1/2" and refuses what is below zero.
func parseNumber(s string) (float64, error) {
	fields := strings.Fields(s)
	if len(fields) == 0 || len(fields) > 2 {
		return 0, ErrNoNumber
	}
	total := 0.0
	for i, f := range fields {
		if len(fields) == 2 && (strings.Contains(f, "/") != (i == 1)) {
			return 0, ErrNoNumber
		}
		x, err := parseFraction(f)
		if err != nil {
			return 0, err
		}
		total += x
	}
	return total, nil
}

func parseFraction(s string) (float64, error) {
	top, bottom, isFraction := strings.Cut(s, "/")
	x, err := strconv.ParseFloat(top, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, ErrNoNumber
	}
	if x < 0 || strings.HasPrefix(top, "-") {
		return 0, ErrNegative
	}
	if !isFraction {
		return x, nil
	}
	y, err := strconv.ParseFloat(bottom, 64)
	if err != nil || !(y > 0) || math.IsInf(y, 0) {
		return 0, ErrNoNumber
	}
	return x / y, nil
}

// shortWords lists one spelling a unit, the shortest, for error messages.
func shortWords(words map[string]float64) []string {
	shortest := map[float64]string{}
	for w, scale := range words {
		old, ok := shortest[scale]
		if !ok || len(w) < len(old) || len(w) == len(old) && w < old {
			shortest[scale] = w
		}
	}
	list := make([]string, 0, len(shortest))
	for _, w := range shortest {
		list = append(list, w)
	}
	sort.Strings(list)
	return list
}
