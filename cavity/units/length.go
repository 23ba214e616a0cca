package units

import "fmt"

// Length is a length in millimetres.
type Length float64

// Inch is exact by definition.
const Inch Length = 25.4

// knownLengths are the units in the spelling that error messages offer.
const knownLengths = "mm, cm, m, in"

var lengthWords = map[string]float64{
	"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4, "”": 25.4,
}

// ParseLength reads "60 mm", "2.5 in", "1 1/4 in", `3/8"`.
func ParseLength(s string) (Length, error) {
	v, err := parseMeasure(s, lengthWords)
	if err != nil {
		return 0, measureError("length", s, err, knownLengths, "60 mm or 3/8 in")
	}
	return Length(v), nil
}

// MM returns the length as a plain number of millimetres.
func (l Length) MM() float64 { return float64(l) }

// String prints both systems: "60.0 mm (2.36 in)".
func (l Length) String() string { return l.Pair().String() }

// Pair returns the length in both systems.
func (l Length) Pair() Pair {
	return Pair{Metric: fmt.Sprintf("%.1f mm", float64(l)), US: fmt.Sprintf("%.2f in", float64(l/Inch))}
}
