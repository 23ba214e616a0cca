package layout

import (
	"fmt"
	"math"
)

// Runner is the central runner with its gates: round bores, half in each half.
type Runner struct {
	DiameterMM float64   `json:"diameter_mm"`
	LengthMM   float64   `json:"length_mm"` // from the edge of the block past the last gate, sprue included
	VolumeML   float64   `json:"volume_ml"` // gates included
	GatesMM    []float64 `json:"gates_mm"`  // bore of the gates at each station, from the sprue on
	LandMM     float64   `json:"land_mm"`
	Uneven     float64   `json:"uneven"` // largest difference between flows over their mean
}

// mostUneven is how far apart the flows into cavities may be.
const mostUneven = 0.10

// resistance of laminar flow through a round bore, over the viscosity times 128/pi:
// length over the fourth power of the bore (Hagen and Poiseuille).
func resistance(lengthMM, boreMM float64) float64 {
	return lengthMM / (boreMM * boreMM * boreMM * boreMM)
}

// boreFor is the bore with a resistance.
func boreFor(lengthMM, r float64) float64 { return math.Pow(lengthMM/r, 0.25) }

// sizeRunner finds the thinnest cutter with which the flows into all cavities are
// even: gates near the sprue are narrowed by what the runner takes from the far
// ones. firstMM is from the edge to the first station, pitchMM between stations;
// landMM is how long a gate is; each station feeds perStation[i] cavities.
func sizeRunner(p Practice, landMM, firstMM, pitchMM float64, perStation []int) (Runner, error) {
	for _, d := range p.RunnersMM {
		if d < 1.2*p.GateMM {
			continue // it would freeze before the gate
		}
		if r, ok := p.runnerOf(d, landMM, firstMM, pitchMM, perStation); ok {
			return r, nil
		}
	}
	return Runner{}, fmt.Errorf("%w: no runner of up to %g mm fills %d cavities along %.0f mm evenly with gates from %g to %g mm; give fewer cavities, or a wider gate",
		ErrSize, p.RunnersMM[len(p.RunnersMM)-1], sum(perStation), firstMM+pitchMM*float64(len(perStation)-1), p.LeastMM, p.GateMM)
}

// gateStep is what drills and cutters come in, in mm.
const gateStep = 0.1

// runnerOf sizes the gates of a runner and says whether they fill evenly.
func (p Practice) runnerOf(d, landMM, firstMM, pitchMM float64, perStation []int) (Runner, bool) {
	n := len(perStation)
	r := Runner{DiameterMM: d, LengthMM: firstMM + pitchMM*float64(n-1) + d/2, LandMM: landMM}
	// What is lost along the runner from each station to the last one, at a flow of 1
	// into each cavity.
	lost, beyond := 0.0, 0
	gates := make([]float64, n)
	last := resistance(landMM, p.GateMM)
	for i := n - 1; i >= 0; i-- {
		bore := boreFor(landMM, last+lost)
		gates[i] = math.Round(bore/gateStep) * gateStep
		if gates[i] < p.LeastMM {
			return r, false
		}
		beyond += perStation[i]
		lost += float64(beyond) * resistance(pitchMM, d)
	}
	r.GatesMM = gates
	r.Uneven = spread(flows(d, pitchMM, landMM, gates, perStation))
	area := math.Pi / 4 * d * d
	volume := area * r.LengthMM
	for i, g := range gates {
		volume += float64(perStation[i]) * math.Pi / 4 * g * g * landMM
	}
	r.VolumeML = volume / 1000
	return r, r.Uneven <= mostUneven
}

// flows solves the network for the flow into one cavity of each station, in any
// unit: from the far end, a pressure of 1 at the last station. The way to the first
// station is common to all. The cavities stand open: while they fill they resist
// least when they matter most, at the start.
func flows(d, pitchMM, landMM float64, gates []float64, perStation []int) []float64 {
	n := len(gates)
	q := make([]float64, n)
	pressure, beyond := 1.0, 0.0
	for i := n - 1; i >= 0; i-- {
		q[i] = pressure / resistance(landMM, gates[i])
		beyond += q[i] * float64(perStation[i])
		pressure += beyond * resistance(pitchMM, d)
	}
	return q
}

func spread(q []float64) float64 {
	low, high, total := math.Inf(1), 0.0, 0.0
	for _, x := range q {
		low, high, total = min(low, x), max(high, x), total+x
	}
	return (high - low) / (total / float64(len(q)))
}

func sum(list []int) int {
	total := 0
	for _, n := range list {
		total += n
	}
	return total
}
