package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Measures is how finely a shop measures. Its zero value is 0.1 g, 1/8 tsp and 1/8 cup.
type Measures struct {
	Scale Mass   // smallest step of the scale
	Spoon Volume // smallest spoon: 1/8, 1/4, 1/2 or 1 tsp
	Cup   Volume // finest mark of cups: 1/8, 1/4, 1/2 or 1 cup
}

// DefaultScale is the step of a kitchen scale for small things. Common practice, no source.
const DefaultScale = Gram / 10

// finestScale and coarsestScale are past any scale that a shop weighs baits with.
const finestScale, coarsestScale = Gram / 1000, 100 * Gram

// ScaleG returns the smallest step of the scale in grams.
func (m Measures) ScaleG() float64 { return float64(orElse(m.Scale, DefaultScale)) }

func (m Measures) spoon() Volume { return orElse(m.Spoon, SpoonStep) }

func (m Measures) cup() Volume { return orElse(m.Cup, CupStep) }

func orElse[T ~float64](x, otherwise T) T {
	if x > 0 {
		return x
	}
	return otherwise
}

// Sound tells whether these are measures that exist.
func (m Measures) Sound() bool {
	return (m.Scale == 0 || m.Scale >= finestScale && m.Scale <= coarsestScale) &&
		(m.Spoon == 0 || halves(m.Spoon, Tsp)) && (m.Cup == 0 || halves(m.Cup, Cup))
}

// halves tells whether v is a whole, a half, a quarter or an eighth.
func halves(v, whole Volume) bool {
	eighths := float64(8 * v / whole)
	for _, n := range []float64{1, 2, 4, 8} {
		if math.Abs(eighths-n) < 1e-9 {
			return true
		}
	}
	return false
}

// CeilCups returns v raised to the next mark of a cup. What lies within a millionth of
// a step above a mark counts as on it, since that is rounding, not plastic.
func (m Measures) CeilCups(v Volume) Volume {
	return m.cup() * Volume(math.Max(0, math.Ceil(float64(v/m.cup())-1e-6)))
}

// FloorCups returns v lowered to the last mark of a cup, with the slack of CeilCups.
func (m Measures) FloorCups(v Volume) Volume {
	return m.cup() * Volume(math.Max(0, math.Floor(float64(v/m.cup())+1e-6)))
}

// Measured rounds an amount to what can be measured: the smallest spoon, a step of the
// scale or whole drops, but never a wanted amount to nothing. A percentage is left
// alone: it is weighed out as a mass.
func (m Measures) Measured(a Amount) Amount {
	switch a.Kind {
	case ByVolume:
		return Amount{ByVolume, m.spoon().ML() * roundWanted(a.Value/m.spoon().ML())}
	case ByMass:
		perG := 1 / m.ScaleG() // 10 is a number that can be stored, 0.1 is not
		return Amount{ByMass, roundWanted(a.Value*perG) / perG}
	case ByDrops:
		return Amount{ByDrops, roundWanted(a.Value)}
	}
	return a
}

// Text prints an amount that was rounded by Measured: "1/4 tsp", "3.2 g", "6 drops".
func (m Measures) Text(a Amount) string {
	switch a.Kind {
	case ByMass:
		decimals := max(0, int(math.Ceil(-math.Log10(m.ScaleG())-1e-9)))
		text := strconv.FormatFloat(a.Value, 'f', decimals, 64)
		if strings.Contains(text, ".") {
			text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
		}
		return text + " g"
	case ByVolume:
		return spoonsText(Volume(a.Value), m.cup())
	}
	return a.String()
}

// String says how finely is measured: "1/8 cup, 1/8 tsp and 0.1 g".
func (m Measures) String() string {
	return fmt.Sprintf("%s, %s and %s", CupsText(m.cup()), SpoonsText(m.spoon()), m.ScaleText())
}

// ScaleText prints the smallest step of the scale: "0.1 g".
func (m Measures) ScaleText() string { return strconv.FormatFloat(m.ScaleG(), 'g', 4, 64) + " g" }
