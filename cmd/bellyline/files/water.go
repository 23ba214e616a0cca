package files

import (
	"bellyline/cavity/units"
	"bellyline/cavity/water"
	"bellyline/laminate"
)

var hookKeys = []Key{
	{Name: "weight", Means: "of hook and all else that hangs on the bait", Unit: aMass, Must: true, Example: "2 g"},
	{Name: "volume", Means: "the water that it pushes up in a full glass", Unit: aVolume, Must: true, Example: "0.25 mL"},
}

// readWater reads what the bait swims in and what hangs on it.
func (m *Mold) readWater(s *section) {
	m.WaterC = float64(take(s, "water", units.ParseTemperature))
	if err := (water.Water{TempC: m.WaterC}).Check(); err != nil && s.sound("water") {
		s.fail("water", "%v", err).Fix = Fix{Value: s.entry("water").examples()[0]}
	}
	hook := s.section("hook")
	if hook == nil {
		return
	}
	m.Hook = laminate.Hook{
		MassG:    take(hook, "weight", positive(units.ParseMass)).G(),
		VolumeML: take(hook, "volume", positive(units.ParseVolume)).ML(),
	}
	if hook.sound() && m.Hook.MassG > laminate.HeaviestHookGML*m.Hook.VolumeML {
		hook.fail("volume", "%.3g g in %.3g mL is denser than any metal; give the water that the hook pushes up in a full glass", m.Hook.MassG, m.Hook.VolumeML)
	}
}
