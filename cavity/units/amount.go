package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
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

// ParseAmount reads "1/4 tsp", "3 g", "6 drops" or "2 %".
func ParseAmount(s string) (Amount, error) {
	lower := strings.ToLower(strings.TrimSpace(s))
	if number, ok := strings.CutSuffix(lower, "%"); ok {
		x, err := parseNumber(number)
		if err != nil || x > 100 {
			return Amount{}, fmt.Errorf("amount %q: a percentage is a number from 0 to 100, like 2 %%", s)
		}
		return Amount{ByPercent, x}, nil
	}
	for _, word := range []string{"drops", "drop"} {
		if number, ok := strings.CutSuffix(lower, word); ok {
			x, err := parseNumber(number)
			if err != nil || x > largest {
				return Amount{}, fmt.Errorf("amount %q: drops are counted, like 6 drops", s)
			}
			return Amount{ByDrops, x}, nil
		}
	}
	if v, err := parseMeasure(s, volumeWords); err == nil {
		return Amount{ByVolume, v}, nil
	}
	m, err := parseMeasure(s, massWords)
	if err != nil {
		return Amount{}, fmt.Errorf("amount %q: %w; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %%", s, plainUnitError(err, s))
	}
	return Amount{ByMass, m}, nil
}

// plainUnitError keeps the list of masses out of a message about any amount.
func plainUnitError(err error, s string) error {
	_, word := splitNumber(s)
	if _, ok := massWords[word]; !ok && word != "" {
		return fmt.Errorf("%w %q", ErrUnknownUnit, word)
	}
	return err
}

// Times returns the amount k times over.
func (a Amount) Times(k float64) Amount { return Amount{a.Kind, a.Value * k} }

// Measured rounds an amount to what can be measured: 1/8 tsp, 0.1 g or whole
// drops. A percentage is left alone: it is weighed out as a mass.
func (a Amount) Measured() Amount {
	switch a.Kind {
	case ByVolume:
		return Amount{ByVolume, float64(RoundToSpoons(Volume(a.Value)))}
	case ByMass:
		return Amount{ByMass, math.Round(a.Value*10) / 10}
	case ByDrops:
		return Amount{ByDrops, math.Round(a.Value)}
	}
	return a
}

// String prints the amount as it is measured: "1/4 + 1/8 tsp", "3 g", "6 drops", "2 %".
func (a Amount) String() string {
	switch a.Kind {
	case ByMass:
		return strconv.FormatFloat(math.Round(a.Value*10)/10, 'f', -1, 64) + " g"
	case ByDrops:
		return strconv.FormatFloat(math.Round(a.Value*10)/10, 'f', -1, 64) + " drops"
	case ByPercent:
		return strconv.FormatFloat(a.Value, 'g', 4, 64) + " %"
	}
	return SpoonsText(Volume(a.Value))
}
