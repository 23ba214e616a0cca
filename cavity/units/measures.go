package units

import "math"

// Measures is how finely a shop measures. Its zero value is 0.1 g, 1/8 tsp and 1/8 cup.
type Measures struct {
	Scale Mass   // smallest step of the scale
	Spoon Volume // smallest spoon
	Cup   Volume // finest mark that cups of plastisol are measured to
}

// DefaultScale is the step of a kitchen scale for small things. Common practice, no source.
const DefaultScale = Gram / 10

// ScaleG returns the smallest step of the scale in grams.
func (m Measures) ScaleG() float64 { return float64(orElse(m.Scale, DefaultScale)) }

func orElse[T ~float64](x, otherwise T) T {
	if x > 0 {
		return x
	}
	return otherwise
}

// Sound tells whether the steps are ones that things can be measured with.
func (m Measures) Sound() bool {
	return within(float64(m.Scale), 1000) && within(float64(m.Spoon), float64(Cup)) && within(float64(m.Cup), float64(Gallon))
}

// leastStep is finer than any measure in a shop, in g or mL. Nought stands for the default.
const leastStep = 1e-4

func within(step, most float64) bool {
	return step == 0 || step >= leastStep && step <= most && !math.IsNaN(step)
}
