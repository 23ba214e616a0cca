package laminate

import (
	"fmt"

	"bellyline/cavity/water"
)

// Hook is what hangs on or sits in a bait besides plastic: hooks, weights, rattles,
// inserts.
type Hook struct {
	MassG    float64
	VolumeML float64
}

// HeaviestHookGML is denser than tungsten, the densest that is tied to a bait: it has
// 19.3 g/mL (from memory).
const HeaviestHookGML = 20

// lightestLargeHookGML is less than any metal has, and more than foam, wood or an
// air-filled rattle: only of metal is a hook with its weight larger than its bait.
const lightestLargeHookGML = 2

// InWater is what a bait does when it is let go.
type InWater struct {
	Falls []water.Fall `json:"falls"` // one a water
	HookG float64      `json:"hook_g"`
	// Spread is by what share speeds may be off, up or down.
	Spread float64 `json:"spread"`
}

// SeaSaltG is the salt of the open sea in g/kg, the standard's 35 (UNESCO 1981).
const SeaSaltG = 35

// DefaultWaterC is the temperature of the water where nobody gives one. Assumed.
const DefaultWaterC = 20

func (j Job) waters() [2]water.Water {
	return [2]water.Water{{Name: "fresh", TempC: j.WaterC}, {Name: "salt", TempC: j.WaterC, SaltG: SeaSaltG}}
}

func (j Job) checkWater() error {
	if !sound(j.Hook.MassG) || !sound(j.Hook.VolumeML) || j.Hook.MassG > 0 && j.Hook.VolumeML == 0 {
		return fmt.Errorf("%w: a hook of %g g and %g mL", ErrJob, j.Hook.MassG, j.Hook.VolumeML)
	}
	if j.Hook.MassG > HeaviestHookGML*j.Hook.VolumeML {
		return fmt.Errorf("%w: a hook of %g g and %g mL is denser than any metal", ErrJob, j.Hook.MassG, j.Hook.VolumeML)
	}
	for _, w := range j.waters() {
		if err := w.Check(); err != nil {
			return fmt.Errorf("%w: %w", ErrJob, err)
		}
	}
	return nil
}

// checkHook refuses a hook that cannot be in or on this bait.
func (r recipe) checkHook(b Bait) error {
	bait := b.MassG / b.DensityGML
	if h := r.Hook; h.VolumeML > bait && h.MassG < lightestLargeHookGML*h.VolumeML {
		return fmt.Errorf("%w: a hook of %g g and %g mL is larger than the bait's %.3g mL, and lighter than metal; give the water that the hook alone pushes up", ErrJob, h.MassG, h.VolumeML, bait)
	}
	return nil
}

// inWater lets the bait go. Set, it has the volume of its plastic cold: what it
// lacks of the cavity has shrunk away.
func (r recipe) inWater(b Bait) InWater {
	body := water.Body{MassG: b.MassG + r.Hook.MassG, VolumeML: b.MassG/b.DensityGML + r.Hook.VolumeML}
	if c := r.Cavity; c != nil {
		s := c.Silhouette()
		body.LengthMM, body.LevelMM2, body.UprightMM2 = s.LengthMM, s.LevelMM2, s.UprightMM2
	}
	in := InWater{HookG: r.Hook.MassG, Spread: water.Spread}
	for _, w := range r.waters() {
		in.Falls = append(in.Falls, w.Fall(body))
	}
	return in
}
