package units

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// AbsoluteZero is the lowest temperature there is, in degrees Celsius.
const AbsoluteZero Celsius = -273.15

// hottest is past anything at a bench, and a number that large is a slip.
const hottest Celsius = 5000

// temperatureForm takes the degree sign and the ordinal mark that is typed for it.
var temperatureForm = regexp.MustCompile(
	`^\s*([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))\s*(?:[°º]|degrees|deg)?\s*(fahrenheit|celsius|f|c)?\s*$`)

// The things that can be wrong with a written temperature. Fahrenheit read as
// Celsius would scorch a batch and fill a room with hydrogen chloride, so there
// is no default letter.
var (
	ErrNoLetter     = errors.New("a temperature needs its letter, F or C")
	ErrTemperature  = errors.New("not a temperature")
	ErrAbsoluteZero = errors.New("below absolute zero")
)

// ParseTemperature reads "340F", "171 C", "171.5°C", "340 degrees F".
func ParseTemperature(s string) (Celsius, error) {
	x, letter, err := splitTemperature(s)
	t := Celsius(x)
	if letter == 'f' {
		t = FromF(x)
	}
	switch {
	case err != nil:
	case t < AbsoluteZero-1e-9: // -459.67 F is not colder by its last bit
		err = ErrAbsoluteZero
	case t > hottest:
		err = ErrTooLarge
	}
	if err != nil {
		return 0, fmt.Errorf("temperature %q: %w; write it like 340F or 171C", s, err)
	}
	return max(t, AbsoluteZero), nil
}

// ParseTemperatureDifference reads "10F" or "5C" as a difference in degrees
// Celsius, so that 9F is 5. It refuses what is below zero.
func ParseTemperatureDifference(s string) (float64, error) {
	x, letter, err := splitTemperature(s)
	if letter == 'f' {
		x = x * 5 / 9
	}
	switch {
	case err != nil:
	case x < 0:
		err = ErrNegative
	case x > float64(hottest):
		err = ErrTooLarge
	}
	if err != nil {
		return 0, fmt.Errorf("temperature difference %q: %w; write it like 9F or 5C", s, err)
	}
	return x, nil
}

// splitTemperature parts "340 F" into 340 and 'f'.
func splitTemperature(s string) (float64, byte, error) {
	m := temperatureForm.FindStringSubmatch(strings.ToLower(plainSigns.Replace(s)))
	switch {
	case m == nil:
		return 0, 0, ErrTemperature
	case m[2] == "":
		return 0, 0, ErrNoLetter
	}
	x, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return 0, 0, ErrTooLarge
	}
	return x, m[2][0], nil
}

// FromF makes a temperature of degrees Fahrenheit.
func FromF(f float64) Celsius { return Celsius((f - 32) * 5 / 9) }

// F returns the temperature in degrees Fahrenheit.
func (c Celsius) F() float64 { return float64(c)*9/5 + 32 }

// String prints both scales: "340 F (171 C)".
func (c Celsius) String() string { return c.Pair().String() }

// Pair returns the temperature on both scales.
func (c Celsius) Pair() Pair { return degrees(whole(c.F()), whole(float64(c))) }

func degrees(f, c float64) Pair {
	return Pair{Metric: fmt.Sprintf("%.0f C", c), US: fmt.Sprintf("%.0f F", f), USFirst: true}
}

// whole rounds to a whole number, with no minus before a zero.
func whole(x float64) float64 { return math.Round(x) + 0 }

// DifferenceText prints a difference of dC degrees Celsius: "9 F (5 C)".
func DifferenceText(dC float64) string { return Difference(dC).String() }

// Difference returns a difference of dC degrees Celsius on both scales. It is rounded
// down, since it stands for a limit.
func Difference(dC float64) Pair {
	const slack = 1e-9 // 5 C is 9 F, not 8, whatever the last bit says
	return degrees(math.Floor(dC*9/5+slack), math.Floor(dC+slack))
}
