package laminate

import (
	"errors"
	"testing"

	"bellyline/cavity/water"
)

// A bait in water is its plastic, cold, and its hook; the box has the shadows of a box.
func TestBaitInWater(t *testing.T) {
	j := simpleJob(openBox(t, 80, 12.5, 10))
	j.WaterC = 20
	j.Hook = Hook{MassG: 3, VolumeML: 0.4}
	p := pourIt(t, j)
	plasticML := p.Bait.MassG / p.Bait.DensityGML
	body := water.Body{MassG: p.Bait.MassG + 3, VolumeML: plasticML + 0.4, LengthMM: 80, LevelMM2: 80 * 12.5, UprightMM2: 12.5 * 10}
	for i, w := range []water.Water{{Name: "fresh", TempC: 20}, {Name: "salt", TempC: 20, SaltG: 35}} {
		want, got := w.Fall(body), p.Water.Falls[i]
		same(t, "way", got.Way, want.Way)
		equal(t, "density", got.BaitGML, want.BaitGML)
		// Shadows are counted: 0.5 % of the area is 0.25 % of the speed.
		within(t, "level", got.LevelMMS, want.LevelMMS, 0.005*want.LevelMMS)
		within(t, "nose first", got.NoseFromMMS, want.NoseFromMMS, 0.005*want.NoseFromMMS)
	}
	// The box holds 10 mL. A jig head of lead, 11.3 g/mL, may be larger than its bait.
	for _, bad := range []Hook{{MassG: 3}, {MassG: 200, VolumeML: 0.1}, {MassG: 2, VolumeML: 25}} {
		j.Hook = bad
		if _, err := j.Pour(t.Context()); !errors.Is(err, ErrJob) {
			t.Errorf("a hook of %+v: %v", bad, err)
		}
	}
	j.Hook = Hook{MassG: 170, VolumeML: 15}
	pourIt(t, j)
}
