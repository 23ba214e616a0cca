package units

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode"
)

// cup, tsp and oz as published (see conversion_test.go), not as the package has them.
const (
	cupML = 236.5882365
	tspML = 4.92892159375
	ozG   = 28.349523125
)

func TestParseVolume(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"250 mL", 250},
		{"250ml", 250},
		{"250 ML", 250},
		{"  250 \t mL ", 250},
		{"250\u00a0mL", 250}, // the space that does not break
		{"250. ml", 250},
		{".5 l", 500},
		{"1e3 mL", 1000},
		{"2 Liters", 2000},
		{"6 cc", 6},
		{"6 cm³", 6},
		{"1 cup", cupML},
		{"1.5cup", 1.5 * cupML},
		{"1 1/2 cups", 1.5 * cupML},
		{"1 1/2cups", 1.5 * cupML},
		{"1-1/2 cups", 1.5 * cupML},
		{"1–1/2 cups", 1.5 * cupML}, // as word processors turn the dash
		{"1½ cups", 1.5 * cupML},
		{"1 ½ cups", 1.5 * cupML},
		{"½ cup", cupML / 2},
		{"¾cup", cupML * 3 / 4},
		{"1⁄2 cup", cupML / 2}, // fraction slash
		{"3/2 cups", 1.5 * cupML},
		{"1/4 tsp", tspML / 4},
		{"1/4 tsp.", tspML / 4},
		{"1/4 + 1/8 tsp", tspML * 3 / 8},
		{"1/4+1/8tsp", tspML * 3 / 8},
		{"¼ + ⅛ tsp", tspML * 3 / 8},
		{"2 3/4 cups + 1 tbsp", cupML*11/4 + 3*tspML},
		{"1 + 2 tbsp + 3 tsp", 12 * tspML},
		{"8 fl oz", cupML},
		{"8 fl. oz.", cupML},
		{"8 Fl  Oz", cupML},
		{"8 floz", cupML},
		{"8 fluid ounces", cupML},
		{"1 gal", 16 * cupML},
		{"1 qt", 4 * cupML},
		{"1 pint", 2 * cupML},
		{"2 tablespoons", 6 * tspML},
		{"0 mL", 0},
	} {
		got, err := ParseVolume(c.text)
		if err != nil {
			t.Errorf("%v", err)
		} else if math.Abs(got.ML()-c.want) > 1e-12*c.want {
			t.Errorf("%q is %.15g mL, want %.15g", c.text, got.ML(), c.want)
		}
	}
}

func TestParseMassAndLength(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"12.3 g", 12.3},
		{"1/2 oz", ozG / 2},
		{"½oz", ozG / 2},
		{"1 1/2 ounces", ozG * 3 / 2},
		{"2 lb", 2 * 16 * ozG},
		{"1 lb + 2 oz", 18 * ozG},
		{"0.5 kg", 500},
	} {
		got, err := ParseMass(c.text)
		if err != nil || math.Abs(got.G()-c.want) > 1e-12*c.want {
			t.Errorf("%q is %v (%v), want %.15g g", c.text, got.G(), err, c.want)
		}
	}
	for _, c := range []struct {
		text string
		want float64
	}{
		{"60 mm", 60},
		{"6cm", 60},
		{"0.06 m", 60},
		{"2.5 in", 63.5},
		{"3/8 in", 9.525},
		{`3/8"`, 9.525},
		{"1 1/4 inches", 31.75},
		{"1-1/4”", 31.75},
	} {
		got, err := ParseLength(c.text)
		if err != nil || math.Abs(got.MM()-c.want) > 1e-12*c.want {
			t.Errorf("%q is %v (%v), want %.15g mm", c.text, got.MM(), err, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	volume := func(s string) error { _, err := ParseVolume(s); return err }
	mass := func(s string) error { _, err := ParseMass(s); return err }
	length := func(s string) error { _, err := ParseLength(s); return err }
	for _, c := range []struct {
		parse func(string) error
		text  string
		want  error
	}{
		{volume, "", ErrNoNumber},
		{volume, " ", ErrNoNumber},
		{volume, "cup", ErrNoNumber},
		{volume, "NaN ml", ErrNoNumber},
		{volume, "Inf ml", ErrNoNumber},
		{volume, "+", ErrNoNumber},
		{volume, "+5 ml", ErrNoNumber},
		{volume, "5 ml +", ErrNoNumber},
		{volume, "1 cup + + 1 tsp", ErrNoNumber},
		{volume, "/2 cup", ErrNoNumber},
		{volume, "250", ErrNoUnit},
		{volume, "1 1/2", ErrNoUnit},
		{volume, "1 cup + 2", ErrNoUnit},
		{volume, "1 egg", ErrUnknownUnit},
		{volume, "8 oz", ErrUnknownUnit},
		{volume, "0x10 ml", ErrUnknownUnit},
		{volume, "1_000 ml", ErrUnknownUnit},
		{volume, "1e400 ml", ErrTooLarge},
		{volume, "1e10 ml", ErrTooLarge},
		{volume, "1000000 gal", ErrTooLarge},
		{volume, "1" + strings.Repeat("0", 400) + "/3 ml", ErrTooLarge},
		{volume, "9e8 ml + 9e8 ml", ErrTooLarge},
		{volume, "-5 ml", ErrNegative},
		{volume, "-0 ml", ErrNegative},
		{volume, "−5 ml", ErrNegative}, // the sign of minus
		{volume, "5 ml + -3 ml", ErrNegative},
		{volume, "1/0 cup", ErrBadNumber},
		{volume, "0/0 cup", ErrBadNumber},
		{volume, "1/2/3 cup", ErrBadNumber},
		{volume, "1 2 cups", ErrBadNumber},
		{volume, "1 3/2 cups", ErrBadNumber}, // 1 1/2 or 3/2?
		{volume, "1.5/2 cup", ErrBadNumber},
		{volume, "1.5 1/2 cup", ErrBadNumber},
		{volume, "½½ cup", ErrBadNumber},
		{volume, "5-10 ml", ErrBadNumber}, // a range
		{volume, "1 -1/2 cup", ErrBadNumber},
		{volume, "1.2.3 ml", ErrBadNumber},
		{volume, "1,5 cups", ErrBadNumber},
		{volume, "1,000 ml", ErrBadNumber},
		{mass, "3 cups", ErrUnknownUnit},
		{mass, "3", ErrNoUnit},
		{length, "3 g", ErrUnknownUnit},
		{length, "60", ErrNoUnit},
	} {
		if err := c.parse(c.text); !errors.Is(err, c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

// The whole line as people see it.
func TestMeasureMessages(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"8 oz", `volume "8 oz": unknown unit "oz" (known: mL, L, tsp, tbsp, fl oz, cup, pt, qt, gal), oz is a weight here, a volume is fl oz; write it like 250 mL, 1 1/2 cups, 8 fl oz or 1/4 + 1/8 tsp`},
		{"3 grams", `volume "3 grams": unknown unit "grams" (known: mL, L, tsp, tbsp, fl oz, cup, pt, qt, gal), that is a weight; write it like 250 mL, 1 1/2 cups, 8 fl oz or 1/4 + 1/8 tsp`},
		{"1,5 cups", `volume "1,5 cups": not a number that can be read (decimals take a point, thousands take nothing); write it like 250 mL, 1 1/2 cups, 8 fl oz or 1/4 + 1/8 tsp`},
		{"40", `volume "40": no unit; write it like 250 mL, 1 1/2 cups, 8 fl oz or 1/4 + 1/8 tsp`},
	} {
		if _, err := ParseVolume(c.text); err == nil || err.Error() != c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
	_, err := ParseLength("3 ft")
	if want := `length "3 ft": unknown unit "ft" (known: mm, cm, m, in); write it like 60 mm or 3/8 in`; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// The units that messages offer are units indeed.
func TestOfferedUnitsAreKnown(t *testing.T) {
	for _, c := range []struct {
		offered string
		words   map[string]float64
	}{{knownVolumes, volumeWords}, {knownMasses, massWords}, {knownLengths, lengthWords}} {
		for word := range strings.SplitSeq(c.offered, ", ") {
			if x, err := parseMeasure("1 "+word, c.words); err != nil || x == 0 {
				t.Errorf("%q: %v, %v", word, x, err)
			}
		}
	}
}

// FuzzParse: no text makes a parser panic or give what no bench has; an error is
// one printable line.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"250 mL", "1 1/2 cups", "1½ cups", "1/4 + 1/8 tsp", "8 fl. oz.", "2 %", "6 drops", "340F", "171.5 °C",
		"40/60", "0.4", "1/0 cup", "1e400 ml", "NaN", "-5 ml", `3/8"`, "1,5", "\x1b[31m5 ml", "5 \xff", "1e-400 g",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err1 := ParseVolume(s)
		m, err2 := ParseMass(s)
		l, err3 := ParseLength(s)
		share, err4 := ParseShare(s)
		a, err5 := ParseAmount(s)
		d, err6 := ParseTemperatureDifference(s)
		c, err7 := ParseTemperature(s)
		for _, x := range []float64{v.ML(), m.G(), l.MM(), share, a.Value, d} {
			if !(x >= 0 && x <= largest) {
				t.Errorf("%q gives %v", s, x)
			}
		}
		if !(c >= AbsoluteZero && c <= hottest) || share > 1 {
			t.Errorf("%q gives %v, share %v", s, c, share)
		}
		for _, err := range []error{err1, err2, err3, err4, err5, err6, err7} {
			if err != nil && strings.ContainsFunc(err.Error(), func(r rune) bool { return !unicode.IsPrint(r) }) {
				t.Errorf("not a printable line: %q", err)
			}
		}
		if err1 == nil {
			SpoonsText(v)
			CupsText(v)
		}
	})
}
