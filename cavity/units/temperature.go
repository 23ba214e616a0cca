package units

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// AbsoluteZero is the lowest temperature there is, in degrees Celsius.
const AbsoluteZero Celsius = -273.15

var temperatureForm = regexp.MustCompile(`^\s*([-+]?[0-9]*\.?[0-9]+)\s*°?\s*([FfCc])\s*$`)

// ErrNoLetter is returned for a temperature without F or C. Fahrenheit read as
// Celsius would scorch a batch and fill a room with hydrogen chloride, so there
// is no default.
var ErrNoLetter = errors.New("a temperature needs its letter, F or C")

// ParseTemperature reads "340F", "171 C", "171.5°C".
func ParseTemperature(s string) (Celsius, error) {
	x, letter, err := splitTemperature(s)
	if err != nil {
		return 0, err
	}
	if letter == 'F' {
		x = (x - 32) * 5 / 9
	}
	if Celsius(x) < AbsoluteZero {
		return 0, fmt.Errorf("temperature %q is below absolute zero", s)
	}
	return Celsius(x), nil
}

// ParseTemperatureDifference reads "10F" or "5C" as a difference, so that 9F is 5C.
func ParseTemperatureDifference(s string) (float64, error) {
	x, letter, err := splitTemperature(s)
	if err != nil {
		return 0, err
	}
	if letter == 'F' {
		x = x * 5 / 9
	}
	return x, nil
}

func splitTemperature(s string) (float64, byte, error) {
	m := temperatureForm.FindStringSubmatch(s)
	if m == nil {
		return 0, 0, fmt.Errorf("temperature %q: %w; write it like 340F or 171C", s, ErrNoLetter)
	}
	x, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return 0, 0, fmt.Errorf("temperature %q is not a number", s)
	}
	return x, m[2][0] &^ 0x20, nil
}

// F returns the temperature in degrees Fahrenheit.
func (c Celsius) F() float64 { return float64(c)*9/5 + 32 }

// String prints both scales: "340 F (171 C)".
func (c Celsius) String() string {
	return fmt.Sprintf("%.0f F (%.0f C)", c.F(), float64(c))
}

// DifferenceText prints a difference of dC degrees Celsius: "9 F (5 C)". It is
// rounded down, since it stands for a limit.
func DifferenceText(dC float64) string {
	const slack = 1e-9 // 5 C is 9 F, not 8, whatever the last bit says
	return fmt.Sprintf("%.0f F (%.0f C)", math.Floor(dC*9/5+slack), math.Floor(dC+slack))
}
