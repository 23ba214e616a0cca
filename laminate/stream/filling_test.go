package stream

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// A runner of 6 mm and 50 mm length at 10 mL/s of 1 Pa s: 15719.0067 Pa, 471.5702
// 1/s, Reynolds 2.122066; as 12 x 3 mm 21982.0323 Pa (Hagen and Poiseuille, and the
// rectangle's series; worked out apart from this program).
func TestRunnerExample(t *testing.T) {
	t.Parallel()
	const flow = 10_000 // mm3/s
	for _, c := range []struct {
		d           Duct
		pa, shear   float64
		tolerancePa float64
	}{
		{Duct{Name: "round", WidthMM: 6, LengthMM: 50}, 15719.0067, 471.5702, 5e-4},
		{Duct{Name: "flat", WidthMM: 12, DepthMM: 3, LengthMM: 50}, 21982.0323, 21982.0323 / 50 * 36 / 30, 1e-3},
	} {
		part, err := c.d.flow(.5, 1, Options{})
		if err != nil {
			t.Fatal(err)
		}
		relative(t, c.d.Name+", pressure", flow*part.length/part.conductance, c.pa, c.tolerancePa)
		relative(t, c.d.Name+", shear rate", flow*part.shear, c.shear, 1e-3)
	}
	way := []resistance{{loss: Loss{Where: "round"}, perMM3: 50 / (math.Pi * 81 / 8), volume: 1, flow: 1, area: math.Pi * 9, across: 6}}
	var f Filling
	f.losses(way, follow(way, false), flow, Push{ViscosityPaS: 1})
	relative(t, "Reynolds", f.Reynolds, 2.122066, 1e-6)
}

// A pipe filled from empty at constant pressure: 4 mu L^2/(R^2 P), a slit
// 6 mu L^2/(H^2 P). R 3 mm, L 127 mm, 1 Pa s, 100 kPa: 0.0716844 s; H 6 mm:
// 0.0268817 s.
func TestFillingTime(t *testing.T) {
	t.Parallel()
	slit := openBody(t, zAxis, xAxis, solids.Box(r3.Vector{Y: -120, Z: -3}, r3.Vector{X: 127, Y: 120, Z: 3}))
	push := &Push{PressurePa: 1e5, ViscosityPaS: 1}
	r := run(t, slit, Conditions{BackFeed: .5, Stations: 20, Push: push, Grid: Options{CellsAcross: 16}})
	// A slit 40 times as wide as high: its sides cost 0.63/40 of the flow (White, from memory).
	relative(t, "slit", r.Filling.TimeS*(1-.63/40), .0268817, 3e-3)
	xs, radii := []float64{0, 0, 127, 127}, []float64{0, 3, 3, 0}
	pipe := openBody(t, zAxis, xAxis, lathe(xs, radii, 1, 1, 240))
	r = run(t, pipe, Conditions{BackFeed: .5, Stations: 20, Push: push})
	relative(t, "pipe", r.Filling.TimeS, .0716844, 1e-3)
	if r.Filling.TimeLowS != r.Filling.TimeS || r.Filling.FlowMLS <= 0 {
		t.Errorf("a given viscosity has no band: %+v", r.Filling)
	}
	// The same pipe as a runner before it costs as the way twice as long does.
	r = run(t, pipe, Conditions{BackFeed: .5, Stations: 20, Push: push, Runner: []Duct{{Name: "runner", WidthMM: 6, LengthMM: 127}}})
	relative(t, "pipe behind a runner", r.Filling.TimeS, 4*.0716844, 1e-3)
}

// A given flow takes the time of its volume; the mean pressure of a pipe is half
// that at its end.
func TestFillingByFlow(t *testing.T) {
	t.Parallel()
	pipe := openBody(t, zAxis, xAxis, lathe([]float64{0, 0, 50, 50}, []float64{0, 3, 3, 0}, 1, 1, 240))
	r := run(t, pipe, Conditions{BackFeed: .5, Stations: 20, Push: &Push{FlowMLS: 10, ViscosityPaS: 1}})
	relative(t, "time", r.Filling.TimeS, math.Pi*9*50/10_000, 1e-3)
	relative(t, "pressure at the end", r.Filling.PeakKPa, 15.7190067, 1e-3)
	relative(t, "mean pressure", r.Filling.PressureKPa, 15.7190067/2, 1e-3)
}

// A thin tail that cannot stay open is named; a thick one is not.
func TestThinTailSets(t *testing.T) {
	t.Parallel()
	body := solids.Box(r3.Vector{X: 30, Y: -8, Z: -6}, r3.Vector{X: 70, Y: 8, Z: 6})
	tail := func(half float64) []r3.Vector {
		return append(solids.Box(r3.Vector{Y: -4, Z: -half}, r3.Vector{X: 31, Y: 4, Z: half}), body...)
	}
	slow := &Push{FlowMLS: .5}
	thin := run(t, openBody(t, zAxis, xAxis, tail(.3)), Conditions{BackFeed: .5, Stations: 14, Push: slow})
	thick := run(t, openBody(t, zAxis, xAxis, tail(4)), Conditions{BackFeed: .5, Stations: 14, Push: slow})
	if len(thin.Filling.Thin) == 0 || thin.Filling.Thin[0].XMM > 31 {
		t.Errorf("thin tail: %+v", thin.Filling.Thin)
	}
	if len(thick.Filling.Thin) != 0 {
		t.Errorf("thick tail: %+v", thick.Filling.Thin)
	}
}
