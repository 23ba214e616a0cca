package units

import (
	"fmt"
	"math"
)

// Weighing is how a small mass is weighed on a coarse scale: so many alike at once,
// then divided.
type Weighing struct {
	Count  int     // weighed at once; 0 when even mostTogether do not do
	TotalG float64 // what the scale then shows
}

// mostTogether is more doses than anyone divides a heap into. Common practice, no source.
const mostTogether = 20

// Weighing finds the fewest doses of g grams that the scale shows at once to within a
// share.
func (m Measures) Weighing(g, within float64) Weighing {
	for n := 1; n <= mostTogether; n++ {
		want := g * float64(n)
		if shown := m.Measured(Amount{ByMass, want}).Value; math.Abs(shown-want) <= within*want {
			return Weighing{n, shown}
		}
	}
	return Weighing{}
}

// WeighingText prints it: "3.2 g", "0.8 g for 13 together".
func (m Measures) WeighingText(w Weighing) string {
	switch w.Count {
	case 0:
		return "too little to weigh"
	case 1:
		return m.Text(Amount{ByMass, w.TotalG})
	}
	return fmt.Sprintf("%s for %d together", m.Text(Amount{ByMass, w.TotalG}), w.Count)
}

// SpoonsText prints a volume in the cups and spoons that the shop has, to the nearest
// of its smallest spoons.
func (m Measures) SpoonsText(v Volume) string {
	if !spoonable(v) {
		return v.String()
	}
	return m.Text(m.Measured(Amount{ByVolume, v.ML()}))
}
