package units

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Eighths of a teaspoon, worked by hand: 24 to a tablespoon, 48 to an eighth of a cup.
func TestSpoonsText(t *testing.T) {
	for _, c := range []struct {
		eighths float64
		want    string
	}{
		{0, "0 tsp"},
		{0.2, "under 1/16 tsp"},
		{1, "1/8 tsp"},
		{2, "1/4 tsp"},
		{3, "1/4 + 1/8 tsp"},
		{4, "1/2 tsp"},
		{5, "1/2 + 1/8 tsp"},
		{7, "1/2 + 1/4 + 1/8 tsp"},
		{8, "1 tsp"},
		{11, "1 1/4 + 1/8 tsp"},
		{20, "2 1/2 tsp"},
		{24, "1 tbsp"},
		{27, "1 tbsp + 1/4 + 1/8 tsp"},
		{47, "1 tbsp + 2 1/2 + 1/4 + 1/8 tsp"},
		{48, "1/8 cup"},
		{95, "1/8 cup + 1 tbsp + 2 1/2 + 1/4 + 1/8 tsp"},
		{96, "1/4 cup"},
		{124, "1/4 cup + 1 tbsp + 1/2 tsp"},
		{384, "1 cup"},
		{480, "1 1/4 cups"},
		{23.9, "1 tbsp"}, // to the nearest step
	} {
		if got := SpoonsText(Volume(c.eighths) * SpoonStep); got != c.want {
			t.Errorf("%g/8 tsp: %q, want %q", c.eighths, got, c.want)
		}
	}
}

func TestCupsText(t *testing.T) {
	for _, c := range []struct {
		eighths float64
		want    string
	}{
		{0, "0 cups"}, {0.3, "under 1/16 cup"}, {1, "1/8 cup"}, {2, "1/4 cup"}, {3, "1/4 + 1/8 cup"}, {5, "1/2 + 1/8 cup"},
		{8, "1 cup"}, {9, "1 1/8 cups"}, {16, "2 cups"}, {22, "2 3/4 cups"}, {23, "2 3/4 + 1/8 cups"},
	} {
		if got := CupsText(Volume(c.eighths) * CupStep); got != c.want {
			t.Errorf("%g/8 cup: %q, want %q", c.eighths, got, c.want)
		}
	}
}

// What cannot be counted out in spoons is printed in millilitres, as it is.
func TestSpoonsOfNonsense(t *testing.T) {
	for _, v := range []Volume{-10, 2e9, Volume(math.Inf(1)), Volume(math.NaN())} {
		if s, c := SpoonsText(v), CupsText(v); s != v.String() || c != v.String() {
			t.Errorf("%v prints %q and %q", v, s, c)
		}
	}
}

// Any amount printed in spoons or cups has no decimal fraction, and reads back
// as the amount to the nearest step: half a step away at most.
func TestSpoonsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Volume(rapid.Float64Range(0, 10000).Draw(t, "mL"))
		for _, c := range []struct {
			text string
			step Volume
		}{{SpoonsText(v), SpoonStep}, {CupsText(v), CupStep}} {
			if strings.Contains(c.text, ".") {
				t.Fatalf("%v mL prints a decimal fraction: %q", float64(v), c.text)
			}
			if strings.HasPrefix(c.text, "under ") {
				if v == 0 || v > c.step/2 {
					t.Fatalf("%v mL prints %q", float64(v), c.text)
				}
				continue
			}
			back, err := ParseVolume(c.text)
			if err != nil || math.Abs(float64(back-v)) > float64(c.step)/2*(1+1e-9) {
				t.Fatalf("%v mL prints %q, which reads as %v (%v)", float64(v), c.text, float64(back), err)
			}
		}
	})
}

// Whole steps are printed exactly.
func TestSpoonStepsReadBackExactly(t *testing.T) {
	for n := range 2000 {
		for _, c := range []struct {
			text string
			want Volume
		}{{SpoonsText(Volume(n) * SpoonStep), Volume(n) * SpoonStep}, {CupsText(Volume(n) * CupStep), Volume(n) * CupStep}} {
			if back, err := ParseVolume(c.text); err != nil || relative(float64(back), float64(c.want)) > 1e-12 {
				t.Fatalf("%d steps print %q, which reads as %v (%v), want %v", n, c.text, float64(back), err, float64(c.want))
			}
		}
	}
}

// Rounding up and down lands on a mark, on its own side of the amount but for
// the stated slack of a millionth of a step, and less than a step away.
func TestCupMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1e6).Draw(t, "mL")
		step, slack := float64(CupStep), float64(CupStep)*1.1e-6
		up, down := float64(Measures{}.CeilCups(Volume(v))), float64(Measures{}.FloorCups(Volume(v)))
		for _, mark := range []float64{up, down} {
			if off := math.Abs(math.Remainder(mark, step)); off > 1e-9*step*math.Max(1, mark/step) {
				t.Fatalf("%v is %v off its mark", mark, off)
			}
		}
		if up < v-slack || up >= v+step || down > v+slack || down <= v-step {
			t.Fatalf("%v lies not between %v and %v", v, down, up)
		}
	})
	for n := range 100 { // what is on a mark stays there, a last bit up or down
		on := Volume(n) * CupStep
		for _, v := range []Volume{on * (1 - 1e-12), on, on * (1 + 1e-12)} {
			if (Measures{}).CeilCups(v) != on || (Measures{}).FloorCups(v) != on {
				t.Errorf("%d/8 cup moves to %v or %v", n, Measures{}.CeilCups(v), Measures{}.FloorCups(v))
			}
		}
	}
	if (Measures{}).CeilCups(-5) != 0 || (Measures{}).FloorCups(-5) != 0 {
		t.Error("cups below nothing")
	}
}

// A wanted amount is never rounded to nothing, nothing never to something.
func TestRoundToSpoons(t *testing.T) {
	for _, c := range []struct{ in, want Volume }{
		{0, 0}, {-1, 0}, {0.01, SpoonStep}, {SpoonStep * 1.4, SpoonStep}, {SpoonStep * 1.6, 2 * SpoonStep}, {Cup, Cup},
	} {
		if got := (Measures{}).Measured(Amount{ByVolume, float64(c.in)}); relative(got.Value, float64(c.want)) > 1e-12 {
			t.Errorf("%v rounds to %v, want %v", float64(c.in), got.Value, float64(c.want))
		}
	}
}
