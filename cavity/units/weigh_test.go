package units

import "testing"

// By hand, to 5 %. 0.27 g on a scale of 0.1 g: 0.3 is 11 % off; two are 0.54, shown 0.5,
// 7 % off; three are 0.81, shown 0.8, 1.2 % off. 0.74 g on a scale of 1 g: 1 is 35 % off,
// 1.48 shown 1, 2.22 shown 2, 10 % off; 2.96 shown 3, 1.4 % off. Twenty of 0.02 g are 0.4
// g, which a scale of 1 g cannot tell.
func TestWeighing(t *testing.T) {
	for _, c := range []struct {
		scale Mass
		g     float64
		want  string
	}{
		{0, 3.2, "3.2 g"},
		{0, 0.27, "0.8 g for 3 together"},
		{Gram, 0.74, "3 g for 4 together"},
		{Gram, 22.5, "23 g"},
		{Gram, 0.02, "too little to weigh"},
		{0, 0, "0 g"},
	} {
		m := Measures{Scale: c.scale}
		if got := m.WeighingText(m.Weighing(c.g, 0.05)); got != c.want {
			t.Errorf("%g g on a scale of %g g: %q, want %q", c.g, m.ScaleG(), got, c.want)
		}
	}
}

// 1.625 cups of 1/2 tsp each are 0.8125 tsp, 6 1/2 eighths: a tie goes up, however the
// product was rounded. In spoons of 1/4 tsp it is 3 1/4 of them.
func TestTiesGoUp(t *testing.T) {
	const eighths = 6.5
	for _, slip := range []float64{-1e-12, 0, 1e-12} {
		v := SpoonStep * Volume(eighths+slip)
		if got := SpoonsText(v); got != "1/2 + 1/4 + 1/8 tsp" {
			t.Errorf("%g: %q", slip, got)
		}
		if got := (Measures{}).SpoonsText(v); got != SpoonsText(v) {
			t.Errorf("%g: %q in the usual spoons, and %q", slip, got, SpoonsText(v))
		}
		if got := (Measures{Spoon: Tsp / 4}).SpoonsText(v); got != "1/2 + 1/4 tsp" {
			t.Errorf("%g: %q in quarters", slip, got)
		}
	}
}
