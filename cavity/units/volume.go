package units

import (
	"fmt"
	"math"
)

// Volume is a volume in millilitres.
type Volume float64

// US customary volumes. The gallon is 231 cubic inches exactly; the rest are
// whole fractions of it (NIST SP 811 appendix B and Handbook 44 appendix C, from
// memory; relations exact in NIST SP 430).
const (
	ML        Volume = 1
	Litre     Volume = 1000
	CubicInch Volume = 16.387064
	Gallon    Volume = 231 * CubicInch
	Quart     Volume = Gallon / 4
	Pint      Volume = Gallon / 8
	Cup       Volume = Gallon / 16
	FluidOz   Volume = Gallon / 128
	Tbsp      Volume = FluidOz / 2
	Tsp       Volume = FluidOz / 6
)

// knownVolumes are the units in the spelling that error messages offer.
const knownVolumes = "mL, L, tsp, tbsp, fl oz, cup, pt, qt, gal"

var volumeWords = map[string]float64{
	"ml": 1, "cc": 1, "cm3": 1, "cm³": 1, "milliliter": 1, "milliliters": 1, "millilitre": 1, "millilitres": 1,
	"l": 1000, "litre": 1000, "litres": 1000, "liter": 1000, "liters": 1000,
	"gal": float64(Gallon), "gallon": float64(Gallon), "gallons": float64(Gallon),
	"qt": float64(Quart), "quart": float64(Quart), "quarts": float64(Quart),
	"pt": float64(Pint), "pint": float64(Pint), "pints": float64(Pint),
	"cup": float64(Cup), "cups": float64(Cup),
	"fl oz": float64(FluidOz), "floz": float64(FluidOz), "fluid ounce": float64(FluidOz), "fluid ounces": float64(FluidOz),
	"tbsp": float64(Tbsp), "tbsps": float64(Tbsp), "tablespoon": float64(Tbsp), "tablespoons": float64(Tbsp),
	"tsp": float64(Tsp), "tsps": float64(Tsp), "teaspoon": float64(Tsp), "teaspoons": float64(Tsp),
}

// ParseVolume reads "250 mL", "1.5cup", "1 1/2 cups", "1½ cups", "1-1/2 cups",
// "1/4 + 1/8 tsp", "8 fl. oz.", in any case of letters.
func ParseVolume(s string) (Volume, error) {
	v, err := parseMeasure(s, volumeWords)
	if err != nil {
		return 0, measureError("volume", s, err, knownVolumes, "250 mL, 1 1/2 cups, 8 fl oz or 1/4 + 1/8 tsp")
	}
	return Volume(v), nil
}

// ML returns the volume as a plain number of millilitres.
func (v Volume) ML() float64 { return float64(v) }

// Cups returns the volume in US cups.
func (v Volume) Cups() float64 { return float64(v / Cup) }

// Tsp returns the volume in US teaspoons.
func (v Volume) Tsp() float64 { return float64(v / Tsp) }

// FluidOz returns the volume in US fluid ounces.
func (v Volume) FluidOz() float64 { return float64(v / FluidOz) }

// String prints both systems: "62.4 mL (2.1 fl oz)".
func (v Volume) String() string { return v.Pair().String() }

// Pair returns the volume in both systems.
func (v Volume) Pair() Pair {
	return Pair{Metric: trim(float64(v)) + " mL", US: trim(v.FluidOz()) + " fl oz"}
}

// trim prints a number with three to four digits that matter and no empty tail.
func trim(x float64) string {
	switch a := math.Abs(x); {
	case a >= 100:
		return fmt.Sprintf("%.0f", x)
	case a >= 10:
		return fmt.Sprintf("%.1f", x)
	case a >= 0.1 || a == 0:
		return fmt.Sprintf("%.2f", x)
	default:
		return fmt.Sprintf("%.2g", x)
	}
}
