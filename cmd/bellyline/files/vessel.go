package files

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// What has a default here is common practice, no source: half full, the foam of degassing
// stays inside.
var vesselKeys = []Key{
	{Name: "holds", Means: "what it holds to the brim", Unit: aVolume, Must: true, Example: "4 cups | 1 gal"},
	{Name: "fill", Means: "how full it may be, so that foam stays inside", Unit: aShare, Default: "50 %", Example: "40 % | 0.4"},
	{Name: "keeps", Means: "what sticks to it", Unit: aVolume, Default: "0 mL", Example: "8 mL"},
	{Name: "cooled", Means: "two readings of a thermometer in it, as full as you pour from it, off the heat", Without: "it does not cool", Keys: cooledKeys, Example: "{from: 340F, to: 320F, in: 4 min}"},
}

var cooledKeys = []Key{
	{Name: "from", Means: "the first reading", Unit: aHeat, Must: true, Example: "340F | 171C"},
	{Name: "to", Means: "the second reading", Unit: aHeat, Must: true, Example: "320F | 160C"},
	{Name: "in", Means: "time between them", Unit: aTime, Must: true, Example: "4 min | 90 s"},
}

func readVessel(name string, room units.Celsius, s *section) laminate.Vessel {
	v := laminate.Vessel{
		Name:    name,
		HoldsML: take(s, "holds", positive(units.ParseVolume)).ML(),
		Fill:    take(s, "fill", units.ParseShare),
		KeepsML: take(s, "keeps", units.ParseVolume).ML(),
	}
	v.Cooling = readCooling(room, s)
	switch {
	case !s.sound("holds", "fill", "keeps"):
	case !(v.Fill > 0):
		s.fail("fill", "a vessel that may not be filled is of no use; 50 %% is common").write("50 %")
	case v.KeepsML >= v.HoldsML*v.Fill:
		s.fail("keeps", "a vessel filled with %v cannot keep %v", units.Volume(v.HoldsML*v.Fill), units.Volume(v.KeepsML)).Fix = Fix{Remove: true}
	}
	return v
}

// readCooling reads two thermometer readings of a vessel.
func readCooling(room units.Celsius, s *section) laminate.Cooling {
	sub := s.section("cooled")
	if sub == nil {
		return laminate.Cooling{}
	}
	c := laminate.Cooling{
		FromC:  float64(take(sub, "from", units.ParseTemperature)),
		ToC:    float64(take(sub, "to", units.ParseTemperature)),
		AfterS: take(sub, "in", positive(pause)).S(),
	}
	switch from, to := units.Celsius(c.FromC), units.Celsius(c.ToC); {
	case !sub.sound():
	case from > cavity.Hottest:
		sub.fail("from", "%s", cavity.PastHottest(from))
	case !(to < from && to > room):
		sub.fail("to", "the second reading, %v, lies between the first, %v, and the room, %v", to, from, room)
	}
	return c
}
