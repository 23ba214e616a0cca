package files

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/golang/geo/r3"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/plain"
	"bellyline/mesh"
)

// read parses a scalar with f, or returns fallback when the key is not there.
func read[T any](s *section, name string, fallback T, required bool, f func(string) (T, error)) T {
	t, ok := s.text(name, required)
	if !ok {
		return fallback
	}
	v, err := f(t)
	if err != nil {
		s.fail(name, "%v", err)
		return fallback
	}
	return v
}

// need reads a required value, may an optional one.
func need[T any](s *section, name string, f func(string) (T, error)) T {
	var zero T
	return read(s, name, zero, true, f)
}

func may[T any](s *section, name string, fallback T, f func(string) (T, error)) T {
	return read(s, name, fallback, false, f)
}

// choice accepts one of a few words.
func choice[T ~string](words ...T) func(string) (T, error) {
	return func(t string) (T, error) {
		if i := slices.Index(words, T(strings.ToLower(t))); i >= 0 {
			return words[i], nil
		}
		list := make([]string, len(words))
		for i, w := range words {
			list[i] = string(w)
		}
		return "", fmt.Errorf("%q is not one of: %s", t, strings.Join(list, ", "))
	}
}

// word reads a name or a text for people.
func word(t string) (string, error) {
	if t = plain.Name(t); t == "" {
		return "", errors.New("nothing printable is left of this name")
	}
	return t, nil
}

// filePath reads the path of another file, which must stay as it is written.
func filePath(t string) (string, error) {
	if t = strings.TrimSpace(t); t != plain.Line(t) {
		return "", fmt.Errorf("%q is no file name: it holds unprintable characters", plain.Name(t))
	}
	return t, nil
}

// number parses a plain number from 0 to high.
func number(high float64) func(string) (float64, error) {
	return func(t string) (float64, error) {
		x, err := strconv.ParseFloat(strings.TrimSpace(t), 64)
		if err != nil || math.IsNaN(x) {
			return 0, fmt.Errorf("%q is not a plain number", t)
		}
		if x < 0 || x > high {
			return 0, fmt.Errorf("%s lies outside 0 to %g", t, high)
		}
		return x, nil
	}
}

// count parses a whole number from low to high.
func count(low, high int) func(string) (int, error) {
	return func(t string) (int, error) {
		n, err := strconv.Atoi(t)
		if err != nil {
			return 0, fmt.Errorf("%q is not a whole number", t)
		}
		if n < low || n > high {
			return 0, fmt.Errorf("%d lies outside %d to %d", n, low, high)
		}
		return n, nil
	}
}

// positive refuses nothing at all where something must be.
func positive[T ~float64](parse func(string) (T, error)) func(string) (T, error) {
	return func(t string) (T, error) {
		v, err := parse(t)
		if err == nil && !(v > 0) {
			return 0, fmt.Errorf("%q must be more than nothing", t)
		}
		return v, err
	}
}

// densityUnits are what densities are given in, in g/mL.
var densityUnits = map[string]float64{
	"": 1, "g/ml": 1, "g/cc": 1, "g/cm3": 1, "g/cm³": 1, "kg/l": 1,
	"lb/gal": float64(units.Pound) / float64(units.Gallon),
}

// density parses a density from low to high g/mL.
func density(low, high float64) func(string) (float64, error) {
	return func(t string) (float64, error) {
		text := strings.ToLower(strings.TrimSpace(t))
		end := strings.IndexFunc(text, func(r rune) bool { return unicode.IsLetter(r) })
		if end < 0 {
			end = len(text)
		}
		scale, ok := densityUnits[strings.ReplaceAll(text[end:], " ", "")]
		x, err := number(math.MaxFloat64)(text[:end])
		if !ok || err != nil {
			return 0, fmt.Errorf("%q is not a density; write it in g/mL, like 1.02, or like 8.5 lb/gal", t)
		}
		if x *= scale; !(x >= low && x <= high) {
			return 0, fmt.Errorf("%.4g g/mL lies outside %g to %g; write it in g/mL, like 1.02, or like 8.5 lb/gal", x, low, high)
		}
		return x, nil
	}
}

func direction(t string) (r3.Vector, error) { return mesh.ParseDirection(t) }

// dearest is past any price for a mL or a g, and keeps costs finite.
const dearest = 1e6

// price parses "38 / gal", "180 / 5 gal", "12.50 / lb" into money per mL or per g.
func price(perWords string, one func(string) (float64, error)) func(string) (float64, error) {
	return func(t string) (float64, error) {
		money, per, ok := strings.Cut(t, "/")
		x, err := number(math.MaxFloat64)(money)
		if !ok || err != nil || x == 0 {
			return 0, fmt.Errorf("price %q: write a number without a money sign, and what it is for: %s", t, perWords)
		}
		per = strings.TrimSpace(per)
		if first, _ := utf8.DecodeRuneInString(per); !unicode.IsNumber(first) {
			per = "1 " + per
		}
		unit, err := one(per)
		if err != nil || unit == 0 {
			return 0, fmt.Errorf("price %q: it must be for %s", t, perWords)
		}
		if !(x/unit <= dearest) {
			return 0, fmt.Errorf("price %q is too much to be meant; it is for %s", t, perWords)
		}
		return x / unit, nil
	}
}

// perVolume parses a price into money per mL, perMass into money per g.
func perVolume(t string) (float64, error) {
	return price("a volume, like 38 / gal", func(s string) (float64, error) {
		v, err := units.ParseVolume(s)
		return v.ML(), err
	})(t)
}

func perMass(t string) (float64, error) {
	return price("a weight, like 12.50 / lb", func(s string) (float64, error) {
		m, err := units.ParseMass(s)
		return m.G(), err
	})(t)
}
