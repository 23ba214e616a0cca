package units

import (
	"errors"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Degrees C by (F - 32) 5/9 on paper.
func TestParseTemperature(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"340F", 1540.0 / 9},
		{"340 f", 1540.0 / 9},
		{" 340 °F ", 1540.0 / 9},
		{"340º F", 1540.0 / 9}, // the ordinal mark, typed for a degree
		{"340 deg F", 1540.0 / 9},
		{"340 degrees Fahrenheit", 1540.0 / 9},
		{"340.F", 1540.0 / 9},
		{"171C", 171},
		{"171.5°C", 171.5},
		{"+20 Celsius", 20},
		{"-40F", -40},
		{"−40 C", -40},
		{"-459.67F", -273.15},
		{"-273.15C", -273.15},
	} {
		got, err := ParseTemperature(c.text)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%q is %.15g C (%v), want %.15g", c.text, float64(got), err, c.want)
		}
	}
}

func TestParseTemperatureRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		want error
	}{
		{"340", ErrNoLetter},
		{"340°", ErrNoLetter},
		{"340 degrees", ErrNoLetter},
		{"-5", ErrNoLetter},
		{"", ErrTemperature},
		{"F", ErrTemperature},
		{"hot", ErrTemperature},
		{"340K", ErrTemperature},
		{"340 FC", ErrTemperature},
		{"1e3F", ErrTemperature},
		{"NaN C", ErrTemperature},
		{"Inf F", ErrTemperature},
		{"3,5 C", ErrTemperature},
		{"340-350F", ErrTemperature},
		{"-274C", ErrAbsoluteZero},
		{"-460F", ErrAbsoluteZero},
		{"9999C", ErrTooLarge},
		{longNumber + "F", ErrTooLarge},
		{longNumber + longNumber + "C", ErrTooLarge},
	} {
		if _, err := ParseTemperature(c.text); !errors.Is(err, c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

// longNumber is a number of 308 digits: near the end of float64, so that a
// careless conversion of it is infinite.
var longNumber = strings.Repeat("9", 308)

func TestParseTemperatureDifference(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{{"9F", 5}, {"18 F", 10}, {"5C", 5}, {"0C", 0}, {"4.5 °F", 2.5}} {
		if got, err := ParseTemperatureDifference(c.text); err != nil || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%q is %v C apart (%v), want %v", c.text, got, err, c.want)
		}
	}
	for _, c := range []struct {
		text string
		want error
	}{{"9", ErrNoLetter}, {"-5C", ErrNegative}, {"-1F", ErrNegative}, {longNumber + "F", ErrTooLarge}, {"x", ErrTemperature}} {
		if _, err := ParseTemperatureDifference(c.text); !errors.Is(err, c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

func TestDifferenceText(t *testing.T) {
	for _, c := range []struct {
		celsius float64
		want    string
	}{
		{5, "9 F (5 C)"},
		{25.0 / 9, "5 F (2 C)"}, // 5F is 2.8 C: a limit is rounded down
		{5.99, "10 F (5 C)"},
		{0, "0 F (0 C)"},
	} {
		if got := DifferenceText(c.celsius); got != c.want {
			t.Errorf("%g: %q, want %q", c.celsius, got, c.want)
		}
	}
}

func TestTemperatureText(t *testing.T) {
	for _, c := range []struct {
		text string
		want string
	}{
		{"340F", "340 F (171 C)"}, {"171C", "340 F (171 C)"}, {"400F", "400 F (204 C)"}, {"21C", "70 F (21 C)"},
		{"-0.2C", "32 F (0 C)"}, {"-0.1F", "0 F (-18 C)"}, // no minus before nothing
	} {
		got, err := ParseTemperature(c.text)
		if err != nil || got.String() != c.want {
			t.Errorf("%q prints %q (%v), want %q", c.text, got, err, c.want)
		}
	}
}

// A temperature is never printed without its letters, and what is printed reads
// back as the same to the half degree that printing rounds away.
func TestTemperatureRoundTrip(t *testing.T) {
	form := regexp.MustCompile(`^(-?\d+ F) \((-?\d+ C)\)$`)
	rapid.Check(t, func(t *rapid.T) {
		c := Celsius(rapid.Float64Range(-273, 1000).Draw(t, "celsius"))
		m := form.FindStringSubmatch(c.String())
		if m == nil {
			t.Fatalf("%v prints %q", float64(c), c)
		}
		for i, half := range []float64{0.5 * 5 / 9, 0.5} {
			back, err := ParseTemperature(m[i+1])
			if err != nil || math.Abs(float64(back-c)) > half+1e-9 {
				t.Fatalf("%v prints %q, which reads as %v (%v)", float64(c), m[i+1], float64(back), err)
			}
		}
		if math.Abs(float64(FromF(c.F())-c)) > 1e-12*1000 {
			t.Fatalf("%v C to F and back is %v", float64(c), float64(FromF(c.F())))
		}
	})
}
