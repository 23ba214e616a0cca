package files

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity/units"
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

func word(t string) (string, error) { return plainText(t), nil }

// number parses a plain number above min (or equal, if atLeast) and up to max.
func number(low, high float64) func(string) (float64, error) {
	return func(t string) (float64, error) {
		x, err := strconv.ParseFloat(t, 64)
		if err != nil || math.IsNaN(x) {
			return 0, fmt.Errorf("%q is not a number", t)
		}
		if x < low || x > high {
			return 0, fmt.Errorf("%s lies outside %g to %g", t, low, high)
		}
		return x, nil
	}
}

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

// density parses g/mL. Plastics, salts and metal powders lie well inside.
func density(t string) (float64, error) {
	t = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(t), "g/mL"))
	x, err := number(0.01, 25)(t)
	if err != nil {
		return 0, fmt.Errorf("%w; a density is in g/mL, like 1.02", err)
	}
	return x, nil
}

func direction(t string) (r3.Vector, error) { return mesh.ParseDirection(t) }

// price parses "38 / gal", "12.50 / lb" into money per mL or per g.
func price(perWords string, one func(string) (float64, error)) func(string) (float64, error) {
	return func(t string) (float64, error) {
		money, per, ok := strings.Cut(t, "/")
		x, err := strconv.ParseFloat(strings.TrimSpace(money), 64)
		if !ok || err != nil || !(x > 0) || math.IsInf(x, 0) {
			return 0, fmt.Errorf("price %q: write it like %s", t, perWords)
		}
		unit, err := one("1 " + strings.TrimSpace(per))
		if err != nil {
			return 0, fmt.Errorf("price %q: %w", t, err)
		}
		return x / unit, nil
	}
}

func perVolume(t string) (float64, error) {
	return price("38 / gal", func(s string) (float64, error) {
		v, err := units.ParseVolume(s)
		return v.ML(), err
	})(t)
}

func perMass(t string) (float64, error) {
	return price("12.50 / lb", func(s string) (float64, error) {
		m, err := units.ParseMass(s)
		return m.G(), err
	})(t)
}
