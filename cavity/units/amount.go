package units

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// AmountKind says how an amount of an additive was given.
type AmountKind int

// The ways in which shops give additives.
const (
	ByVolume  AmountKind = iota // loose, by spoon or cup
	ByMass                      // weighed
	ByDrops                     // counted drops
	ByPercent                   // percent of the plastisol's mass
)

// Amount is how much of an additive goes to something, as it was written.
// Value is in mL, g, drops or percent, by Kind.
type Amount struct {
	Kind  AmountKind
	Value float64
}

// amountWords holds the units of each kind of amount, by AmountKind.
var amountWords = [...]map[string]float64{
	ByVolume:  volumeWords,
	ByMass:    massWords,
	ByDrops:   {"drop": 1, "drops": 1},
	ByPercent: {"%": 1, "percent": 1},
}

// The things that can be wrong with an amount beside its number and unit.
var (
	ErrPercent    = errors.New("a percentage is at most 100 %")
	ErrMixedKinds = errors.New("spoons, weights, drops and percentages do not add up")
)

// ParseAmount reads "1/4 tsp", "1/4 + 1/8 tsp", "3 g", "6 drops" or "2 %".
func ParseAmount(s string) (Amount, error) {
	a, err := parseAmount(s)
	if err != nil {
		return Amount{}, fmt.Errorf("amount %q: %w; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %%", s, err)
	}
	return a, nil
}

func parseAmount(s string) (Amount, error) {
	for kind, words := range amountWords {
		x, err := parseMeasure(s, words)
		u, wrongWord := errors.AsType[unknownUnit](err)
		switch {
		case err == nil && AmountKind(kind) == ByPercent && x > 100:
			return Amount{}, ErrPercent
		case err == nil:
			return Amount{AmountKind(kind), x}, nil
		case !wrongWord || !measuresAmount(u.word):
			return Amount{}, err
		}
	}
	return Amount{}, ErrMixedKinds
}

// measuresAmount tells whether a word is a unit of any kind of amount.
func measuresAmount(word string) bool {
	for _, words := range amountWords {
		if words[word] > 0 {
			return true
		}
	}
	return false
}

// Times returns the amount k times over.
func (a Amount) Times(k float64) Amount { return Amount{a.Kind, a.Value * k} }

// tieSlack lets half a step that a product made a hair smaller go up like any half.
const tieSlack = 1e-9

// roundSteps rounds to whole steps, halves up.
func roundSteps(steps float64) float64 { return math.Floor(steps + 0.5 + tieSlack) }

// roundWanted rounds to whole steps, what is above nothing to at least one.
func roundWanted(steps float64) float64 {
	if steps <= 0 {
		return 0
	}
	return math.Max(1, roundSteps(steps))
}

// String prints the amount as it is measured: "1/4 + 1/8 tsp", "3 g", "6 drops", "2 %".
func (a Amount) String() string {
	switch a.Kind {
	case ByMass:
		return tenths(a.Value) + " g"
	case ByDrops:
		if a.Value == 1 {
			return "1 drop"
		}
		return tenths(a.Value) + " drops"
	case ByPercent:
		return strconv.FormatFloat(a.Value, 'g', 4, 64) + " %"
	}
	return SpoonsText(Volume(a.Value))
}

// tenths prints one decimal, or two digits that matter where that would leave 0.
func tenths(x float64) string {
	if math.Abs(x) < 0.05 {
		return strconv.FormatFloat(x, 'g', 2, 64)
	}
	return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64)
}
