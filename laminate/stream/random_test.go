package stream

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// star draws a section with a hole now and then, its outline as wild as a scan's.
func star(t *rapid.T) Section {
	ring := func(label string, low, high float64, clockwise bool) []r2.Point {
		n := rapid.IntRange(3, 24).Draw(t, label+" corners")
		start := rapid.Float64Range(0, 2*math.Pi).Draw(t, label+" start")
		var loop []r2.Point
		for i := range n {
			r := rapid.Float64Range(low, high).Draw(t, label+" radius")
			if clockwise {
				i = n - 1 - i
			}
			sin, cos := math.Sincos(start + 2*math.Pi*float64(i)/float64(n))
			loop = append(loop, r2.Point{X: 3 * r * cos, Y: r * sin})
		}
		return loop
	}
	s := polygon(ring("outline", 3, 8, false)...)
	if rapid.Bool().Draw(t, "hole") {
		s.Loops = append(s.Loops, ring("hole", .2, 1, true))
	}
	return s
}

// Whatever the outline: the solver ends, no stream runs backwards, the flow lies
// between that of the thicker and that of the thinner colour alone, the line stands
// where the streams have their shares, and the turned section mirrors it.
func TestAnyOutline(t *testing.T) {
	t.Parallel()
	opts := Options{CellsAcross: 12}
	rapid.Check(t, func(t *rapid.T) {
		s := star(t)
		if !(s.AreaMM2() > 1) || s.InscribedMM() < .5 {
			t.Skip("hardly a section")
		}
		share := rapid.Float64Range(.05, .95).Draw(t, "share")
		m := math.Exp(rapid.Float64Range(-3, 3).Draw(t, "logarithm of the ratio"))
		p, err := PartingAt(s, share, m, opts)
		if err != nil {
			t.Fatal(err)
		}
		one := total(t, s, opts)
		// Spikes of a cell or two on so coarse a grid cost some percent.
		if q := p.Flow.TotalMM4; q < one/max(1, m)*.9 || q > one/min(1, m)*1.1 {
			t.Errorf("flow %g, alone %g and %g", q, one, one/m)
		}
		if math.Abs(p.BelowShare-share) > 1e-2 { // grids of neighbouring heights differ by that much
			t.Errorf("share %g, asked %g", p.BelowShare, share)
		}
		for i := range p.Flow.profiles {
			for _, u := range p.Flow.profiles[i].u {
				if u < -1e-6*one {
					t.Errorf("speed %g", u)
				}
			}
		}
		skin := p.Skin(1, .1)
		if !(skin.MeanMM >= 0 && skin.ShownMM <= skin.FaceMM*(1+1e-9)) {
			t.Errorf("%+v", skin)
		}
	})
}
