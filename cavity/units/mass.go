package units

// Mass is a mass in grams.
type Mass float64

// Avoirdupois masses, exact by definition (NIST SP 811, from memory).
const (
	Gram  Mass = 1
	Pound Mass = 453.59237
	Ounce Mass = Pound / 16
)

// knownMasses are the units in the spelling that error messages offer.
const knownMasses = "g, kg, oz, lb"

var massWords = map[string]float64{
	"g": 1, "gram": 1, "grams": 1, "kg": 1000,
	"oz": float64(Ounce), "ounce": float64(Ounce), "ounces": float64(Ounce),
	"lb": float64(Pound), "lbs": float64(Pound), "pound": float64(Pound), "pounds": float64(Pound),
}

// ParseMass reads "12.3 g", "1/2 oz", "2 lb".
func ParseMass(s string) (Mass, error) {
	v, err := parseMeasure(s, massWords)
	if err != nil {
		return 0, measureError("mass", s, err, knownMasses, "12.3 g, 1/2 oz or 2 lb")
	}
	return Mass(v), nil
}

// G returns the mass as a plain number of grams.
func (m Mass) G() float64 { return float64(m) }

// String prints both systems: "12.3 g (0.43 oz)".
func (m Mass) String() string { return m.Pair().String() }

// Pair returns the mass in both systems.
func (m Mass) Pair() Pair {
	return Pair{Metric: trim(float64(m)) + " g", US: trim(float64(m/Ounce)) + " oz"}
}
