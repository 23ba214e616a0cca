package files

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
)

var materialKeys = []Key{
	{Name: "density", Means: "of the cold plastisol", Unit: aDensity, Must: true, Example: "1.02 | 8.5 lb/gal"},
	{Name: "expansion", Means: "by volume for each degree C: fill a cup hot, mark it, let it set; lost height over height, over the degrees it cooled", Unit: aNumber, Must: true, Example: "0.0006"},
	{Name: "pour", Means: "how hot it is poured", Unit: aHeat, Must: true, Example: "340F | 171C"},
	{Name: "ceiling", Means: "how hot it may never be, from the maker's data sheet", Unit: aHeat, Must: true, Example: "375F | 190C"},
	{Name: "coldest", Means: "at which the last shots stopped filling thin tails", Unit: aHeat, Example: "315F | 157C"},
	{Name: "price", Means: "of the plastisol", Unit: "money / a volume", Example: "38 / gal | 180 / 5 gal"},
}

// Plasticizers weigh 0.92 g/mL and more, PVC 1.40 and less; fillers add to that.
const lightestPlastisol, heaviestPlastisol = 0.8, 2.0

func readMaterial(name string, room units.Celsius, s *section) cavity.Plastisol {
	p := cavity.Plastisol{
		Name: name, Room: room,
		DensityGML:    take(s, "density", density(lightestPlastisol, heaviestPlastisol)),
		ExpansionPerC: take(s, "expansion", number(0.003)),
		Pour:          take(s, "pour", units.ParseTemperature),
		Ceiling:       take(s, "ceiling", units.ParseTemperature),
		Coldest:       take(s, "coldest", units.ParseTemperature),
		PricePerML:    take(s, "price", PerVolume),
	}
	switch {
	case !s.sound("pour", "ceiling", "coldest"):
	case p.Ceiling > cavity.Hottest:
		s.fail("ceiling", "%s", cavity.PastHottest(p.Ceiling))
	default:
		checkPour(s, p)
	}
	return p
}

// checkPour looks at how hot a plastisol is poured, which a shop file says and a
// colour of a mold file may change.
func checkPour(s *section, p cavity.Plastisol) {
	switch {
	case p.Pour > p.Ceiling:
		s.fail("pour", "%v is past this material's own ceiling of %v", p.Pour, p.Ceiling)
	case p.Pour < cavity.ColdestPour:
		s.fail("pour", "%s", cavity.BelowColdestPour(p.Pour))
	case p.Coldest != 0 && !(p.Coldest > p.Room && p.Coldest < p.Pour):
		s.fail("pour", "%v, and too thick to fill a mold at %v (coldest): that must lie between the room and where it is poured", p.Pour, p.Coldest)
	}
}
