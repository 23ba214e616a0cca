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

// take reads a value. Left out, it is what the table's default says, or nothing; where
// the table says so it cannot be left out.
func take[T any](s *section, name string, f func(string) (T, error)) T {
	var none T
	k := s.entry(name)
	switch {
	case k.Must:
		return need(s, name, f)
	case k.Default == "" || s.has(name):
		return may(s, name, none, f)
	}
	v, err := f(k.Default)
	if err != nil {
		panic(fmt.Sprintf("the default of %s: %v", s.sub(name), err))
	}
	return v
}

// need reads a value that cannot be left out.
func need[T any](s *section, name string, f func(string) (T, error)) T {
	var none T
	if !s.has(name) {
		s.missing(name)
		return none
	}
	return may(s, name, none, f)
}

// may reads a value that has a fallback.
func may[T any](s *section, name string, fallback T, f func(string) (T, error)) T {
	longest := longestValue
	if s.entry(name).Unit == freeText {
		longest = longestNotes
	}
	t, ok := s.text(name, longest)
	if !ok {
		return fallback
	}
	v, err := f(t)
	if err != nil {
		s.fail(name, "%v", withoutExamples{err}).write(s.entry(name).examples()...)
		return fallback
	}
	return v
}

// withoutExamples is an error whose examples go: those of the key stand in their place.
type withoutExamples struct{ error }

func (e withoutExamples) Error() string {
	text, _, _ := strings.Cut(e.error.Error(), "; write it like ")
	text, _, _ = strings.Cut(text, "; write them like ")
	return text
}

func (e withoutExamples) Unwrap() error { return e.error }

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

// longestNotes fills a card.
const longestNotes = 2000

// paragraph reads text of several lines.
func paragraph(t string) (string, error) {
	var lines []string
	for line := range strings.Lines(strings.TrimSpace(t)) {
		lines = append(lines, strings.TrimRight(plain.Line(line), " "))
	}
	return strings.Join(lines, "\n"), nil
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
			return 0, fmt.Errorf("%q is not a density", t)
		}
		if x *= scale; !(x >= low && x <= high) {
			return 0, fmt.Errorf("%.4g g/mL lies outside %g to %g", x, low, high)
		}
		return x, nil
	}
}

func direction(t string) (r3.Vector, error) { return mesh.ParseDirection(t) }

// dearest is past any price for a mL or a g, and keeps costs finite.
const dearest = 1e6

// price parses "38 / gal", "180 / 5 gal", "12.50 / lb" into money per unit of what one
// reads.
func price(per string, one func(string) (float64, error)) func(string) (float64, error) {
	return func(t string) (float64, error) {
		money, amount, ok := strings.Cut(t, "/")
		x, err := number(math.MaxFloat64)(money)
		if !ok || err != nil || x == 0 {
			return 0, fmt.Errorf("price %q: write a number without a money sign, and what it is for: %s", t, per)
		}
		amount = strings.TrimSpace(amount)
		if first, _ := utf8.DecodeRuneInString(amount); !unicode.IsNumber(first) {
			amount = "1 " + amount
		}
		unit, err := one(amount)
		if err != nil || unit == 0 {
			return 0, fmt.Errorf("price %q: it must be for %s", t, per)
		}
		if !(x/unit <= dearest) {
			return 0, fmt.Errorf("price %q is too much to be meant", t)
		}
		return x / unit, nil
	}
}

// PerVolume parses a price into money per mL, perMass into money per g.
func PerVolume(t string) (float64, error) {
	return price("a volume", func(s string) (float64, error) {
		v, err := units.ParseVolume(s)
		return v.ML(), err
	})(t)
}

func perMass(t string) (float64, error) {
	return price("a weight", func(s string) (float64, error) {
		m, err := units.ParseMass(s)
		return m.G(), err
	})(t)
}

// perGram parses a price for a weight, or for a volume of so many g/mL, into money per g.
func perGram(gml float64) func(string) (float64, error) {
	return price("a weight or a volume", func(s string) (float64, error) {
		if v, err := units.ParseVolume(s); err == nil {
			return v.ML() * gml, nil
		}
		m, err := units.ParseMass(s)
		return m.G(), err
	})
}
