package stream

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Push is what drives a shot: a pressure or a flow rate, and the figures of the
// melt and the mold. A zero figure is its default.
type Push struct {
	PressurePa float64
	FlowMLS    float64 // used when PressurePa is 0

	ViscosityPaS, LowPaS, HighPaS float64 // of the belly's melt
	MoldC, GelC                   float64
	DiffusivityMM2S               float64
}

// Defaults of a push. Viscosity of a hot, very soft plastisol and the temperature
// at which it stops to flow are unverified: editable defaults, not facts.
// Diffusivity: a plasticized PVC's data sheet, 0.08 to 0.11 mm2/s.
const (
	defaultPaS, defaultLowPaS, defaultHighPaS = 1, 0.2, 10
	defaultMoldC, defaultGelC                 = 40, 100
	defaultDiffusivity                        = 0.1
)

// Filling is whether a cavity fills, and where its pressure goes.
type Filling struct {
	PressureKPa  float64       `json:"pressure_kpa"`      // given, or the mean while filling
	PeakKPa      float64       `json:"peak_pressure_kpa"` // given, or when the front reaches the last station
	FlowMLS      float64       `json:"flow_ml_s"`         // given, or the mean while filling
	TimeS        float64       `json:"time_s"`            // runner and cavities
	TimeLowS     float64       `json:"time_low_s"`        // with the thinnest melt that may be
	TimeHighS    float64       `json:"time_high_s"`
	ViscosityPaS float64       `json:"viscosity_pa_s"`
	LowPaS       float64       `json:"viscosity_low_pa_s"`
	HighPaS      float64       `json:"viscosity_high_pa_s"`
	Lost         []Loss        `json:"pressure_lost"` // the runner's parts, then the stations that take most
	Thin         []ThinSection `json:"thin"`
	Reynolds     float64       `json:"reynolds"` // largest, at 1 g/mL
}

// Loss is where the pressure is lost.
type Loss struct {
	Where string   `json:"where"`
	XMM   *float64 `json:"x_mm"`      // null in the runner
	Share float64  `json:"share"`     // of the work of the whole push
	Shear float64  `json:"shear_1_s"` // at the wall, mean over it
}

// ThinSection is one that sets before what lies beyond it is filled.
type ThinSection struct {
	XMM         float64 `json:"x_mm"`
	InscribedMM float64 `json:"inscribed_mm"`
	SetsS       float64 `json:"sets_s"`
	NeedsS      float64 `json:"needs_s"` // from its first wetting to the end
}

func (p Push) withDefaults() Push {
	set := func(x *float64, to float64) {
		if *x == 0 {
			*x = to
		}
	}
	given := p.ViscosityPaS != 0
	set(&p.ViscosityPaS, defaultPaS)
	if given {
		set(&p.LowPaS, p.ViscosityPaS)
		set(&p.HighPaS, p.ViscosityPaS)
	}
	set(&p.LowPaS, defaultLowPaS)
	set(&p.HighPaS, defaultHighPaS)
	set(&p.MoldC, defaultMoldC)
	set(&p.GelC, defaultGelC)
	set(&p.DiffusivityMM2S, defaultDiffusivity)
	return p
}

func (p Push) check() error {
	if !(p.PressurePa > 0 && p.PressurePa <= 1e9) && !(p.PressurePa == 0 && p.FlowMLS > 0 && p.FlowMLS <= 1e6) {
		return fmt.Errorf("%w: a push of %g Pa and %g mL/s", ErrConditions, p.PressurePa, p.FlowMLS)
	}
	q := p.withDefaults()
	switch {
	case !(q.LowPaS > 0 && q.LowPaS <= q.ViscosityPaS && q.ViscosityPaS <= q.HighPaS && q.HighPaS <= 1e6):
		return fmt.Errorf("%w: a viscosity of %g Pa s between %g and %g", ErrConditions, q.ViscosityPaS, q.LowPaS, q.HighPaS)
	case !(q.MoldC < q.GelC) || !(q.DiffusivityMM2S > 0):
		return fmt.Errorf("%w: the mold at %g C must be colder than %g C, at which the melt sets", ErrConditions, q.MoldC, q.GelC)
	}
	return nil
}

// resistance is one link of the way of the flow.
type resistance struct {
	loss                Loss
	perMM3              float64 // pressure over flow over viscosity, 1/mm3
	volume              float64
	flow                float64 // through it, as part of one cavity's
	shear, area, across float64
	pieces              []*piece
}

// way lists runner and stations from the injector on. Where a station has several
// pieces, or the runner feeds several cavities, flow is parted and pressure is not.
func (r *Result) way(n *network, cond Conditions) []resistance {
	var list []resistance
	for _, d := range r.Runner {
		list = append(list, resistance{loss: Loss{Where: d.Name}, perMM3: d.length / d.conductance, volume: d.VolumeMM3 / float64(cond.Cavities),
			flow: float64(cond.Cavities), shear: d.shear, area: d.section.AreaMM2(), across: d.section.InscribedMM()})
	}
	for i := range n.stations {
		s := &n.stations[i]
		link := resistance{loss: Loss{Where: "cavity", XMM: &s.x}, flow: 1, pieces: s.pieces}
		conductance := 0.0
		for _, p := range s.pieces {
			conductance += p.conductance(cond.Ratio.Back)
			link.area += p.solver.area
			link.across = max(link.across, p.solver.inscribed)
		}
		if conductance == 0 {
			continue
		}
		for _, p := range s.pieces {
			if one, err := p.solver.oneFluid(); err == nil {
				part := p.conductance(cond.Ratio.Back) / conductance
				link.shear = max(link.shear, part*wallShear(p.solver.section, p.solver.area, one.TotalMM4))
			}
		}
		link.perMM3, link.volume = s.length/conductance, link.area*s.length
		list = append(list, link)
	}
	return list
}

// conductance is flow times the belly's viscosity over pressure gradient, mm4.
func (p *piece) conductance(ratio float64) float64 {
	one, err := p.solver.oneFluid()
	switch {
	case err != nil:
		return 0
	case p.parting == nil && p.back > 0.5:
		return one.TotalMM4 / ratio
	case p.parting == nil:
		return one.TotalMM4
	}
	return p.parting.Flow.TotalMM4
}

// filled is how filling goes on along the way, for one cavity.
type filled struct {
	passed float64   // resistance of the whole way
	volume float64   // of the whole way
	work   float64   // integral of resistance passed over volume
	wetted []float64 // that integral where each link begins to fill; the volume for a given flow
}

// follow moves the front from the injector on. Behind it pressure over viscosity is
// the flow times the resistance R that the front has passed, so at a given pressure
// dV/dt = P/(mu R), and t = mu/P times the integral of R dV.
func follow(way []resistance, byPressure bool) filled {
	var f filled
	for _, w := range way {
		own := w.perMM3 * w.flow
		if byPressure {
			f.wetted = append(f.wetted, f.work)
		} else {
			f.wetted = append(f.wetted, f.volume)
		}
		f.work += w.volume * (f.passed + own/2)
		f.passed += own
		f.volume += w.volume
	}
	return f
}

func (r *Result) fill(n *network, cond Conditions) *Filling {
	p := cond.Push.withDefaults()
	way := r.way(n, cond)
	g := follow(way, p.PressurePa > 0)
	f := &Filling{ViscosityPaS: p.ViscosityPaS, LowPaS: p.LowPaS, HighPaS: p.HighPaS, Lost: []Loss{}, Thin: []ThinSection{}}
	cavities := float64(cond.Cavities)
	if p.PressurePa > 0 {
		second := p.ViscosityPaS / p.PressurePa
		f.PressureKPa, f.PeakKPa = p.PressurePa/1000, p.PressurePa/1000
		f.TimeS = g.work * second
		f.TimeLowS, f.TimeHighS = f.TimeS*p.LowPaS/p.ViscosityPaS, f.TimeS*p.HighPaS/p.ViscosityPaS
		f.FlowMLS = g.volume * cavities / f.TimeS / 1000
		f.thinSections(way, g.wetted, g.work, second, cond, p)
	} else {
		flow := p.FlowMLS * 1000 / cavities // mm3/s into each
		f.TimeS = g.volume / flow
		f.TimeLowS, f.TimeHighS, f.FlowMLS = f.TimeS, f.TimeS, p.FlowMLS
		f.PressureKPa, f.PeakKPa = flow*p.ViscosityPaS*g.work/g.volume/1000, flow*p.ViscosityPaS*g.passed/1000
		f.thinSections(way, g.wetted, g.volume, 1/flow, cond, p)
	}
	f.losses(way, g, f.FlowMLS*1000/cavities, p)
	return f
}

// mostLosses is how many stations are named.
const mostLosses = 3

// losses lists the runner's parts and the stations that take most of the push: each
// takes its resistance times the volume that passes it.
func (f *Filling) losses(way []resistance, g filled, flow float64, p Push) {
	var runner, cavity []Loss
	before := 0.0
	for _, w := range way {
		l := w.loss
		l.Share, l.Shear = w.perMM3*w.flow*(g.volume-before-w.volume/2)/g.work, w.shear*flow*w.flow
		before += w.volume
		// Reynolds' number at 1 g/mL, which is 1e-6 kg/mm3, with mm and s: rho V d/mu in
		// SI is 1e-3 times the numbers in mm, over mu in Pa s.
		f.Reynolds = max(f.Reynolds, 1e-3*flow*w.flow/w.area*w.across/p.ViscosityPaS)
		if l.XMM == nil {
			runner = append(runner, l)
		} else {
			cavity = append(cavity, l)
		}
	}
	slices.SortStableFunc(cavity, func(a, b Loss) int { return cmp.Compare(b.Share, a.Share) })
	f.Lost = append(append(f.Lost, runner...), cavity[:min(len(cavity), mostLosses)]...)
}

// thinSections compares the time for which a section must stay open with the time
// in which its middle cools to where the melt sets, as a round bar of the largest
// circle within it: t = d^2/(4 z^2 a) ln(C (Tmelt-Tmold)/(Tset-Tmold)), the first
// term of the series, z = 2.404826, C = 1.601975 (Incropera, Table 5.1, Bi without
// bound; from memory).
func (f *Filling) thinSections(way []resistance, wetted []float64, done, second float64, cond Conditions, p Push) {
	const z, c = 2.404826, 1.601975
	for i, w := range way {
		needs := (done - wetted[i]) * second
		for _, q := range w.pieces {
			d := q.solver.inscribed
			sets := d * d / (4 * z * z * p.DiffusivityMM2S) * math.Log(c*(cond.MeltC-p.MoldC)/(p.GelC-p.MoldC))
			if sets < needs {
				f.Thin = append(f.Thin, ThinSection{XMM: *w.loss.XMM, InscribedMM: d, SetsS: sets, NeedsS: needs})
			}
		}
	}
}
