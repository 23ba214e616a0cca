package water

import "math"

// Body is a bait as water feels it. Without a length nothing is said of its speed.
type Body struct {
	MassG      float64 // with hooks and inserts
	VolumeML   float64 // the same
	LengthMM   float64 // nose to tail
	LevelMM2   float64 // area seen from below when it lies level
	UprightMM2 float64 // area seen from below when it hangs nose down
}

// Way is what a bait does when it is let go.
type Way string

const (
	Floats Way = "floats"
	Hangs  Way = "hangs"
	Sinks  Way = "sinks"
)

// hangsWithin is the share of the water's density within which a bait hangs: half a
// percent is what a few degrees or a hook make. Common practice, no source.
const hangsWithin = 0.005

// Fall is what a bait does in one water. Speeds are in mm/s, upward for one that
// floats.
type Fall struct {
	Water       string  `json:"water"`
	TempC       float64 `json:"temp_c"`
	WaterGML    float64 `json:"water_g_ml"`
	BaitGML     float64 `json:"bait_g_ml"`
	Way         Way     `json:"way"`
	PullG       float64 `json:"pull_g"`       // weight in the water, negative for one that floats
	LevelMMS    float64 `json:"level_mm_s"`   // falling level: the slowest
	NoseFromMMS float64 `json:"nose_mm_s"`    // nose first with blunt ends
	NoseToMMS   float64 `json:"nose_to_mm_s"` // nose first as smooth as an egg: the fastest
}

// Spread is what drag figures of such bodies are off by, up or down: table values of
// finite cylinders differ by that much between books.
const Spread = 0.2

const standardGravity = 9.80665 // m/s2, exact by definition

// Fall returns what a body does in water. Its speed is where drag carries its weight
// in the water, level and nose first; real baits turn, flutter and swim, so take them
// for the order of size.
func (w Water) Fall(b Body) Fall {
	density, viscosity := w.DensityKgM3(), w.ViscosityPaS()
	f := Fall{Water: w.Name, TempC: w.TempC, WaterGML: density / 1000, BaitGML: b.MassG / b.VolumeML, Way: Hangs}
	f.PullG = b.MassG - b.VolumeML*f.WaterGML
	switch {
	case f.BaitGML > f.WaterGML*(1+hangsWithin):
		f.Way = Sinks
	case f.BaitGML < f.WaterGML*(1-hangsWithin):
		f.Way = Floats
	default:
		return f
	}
	if b.LengthMM == 0 {
		return f
	}
	weight := math.Abs(f.PullG) / 1000 * standardGravity
	long := b.LengthMM / 1000
	level, upright := b.LevelMM2/1e6, b.UprightMM2/1e6
	thick := level / long // mean width seen from below
	across := math.Sqrt(4 * upright / math.Pi)
	f.LevelMMS = 1000 * fallSpeed(weight, level, density, viscosity, thick, func(re float64) float64 { return acrossDrag(re, long/thick) })
	for _, end := range []struct {
		table []point
		speed *float64
	}{{bluntAlong[:], &f.NoseFromMMS}, {roundAlong[:], &f.NoseToMMS}} {
		// Below re 1e4 drag along a body grows as a ball's does.
		drag := func(re float64) float64 { return look(end.table, long/across) * max(1, sphereDrag(re)/sphereDrag(1e4)) }
		*end.speed = 1000 * fallSpeed(weight, upright, density, viscosity, across, drag)
	}
	return f
}
