package files

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Shop is what a shop owns and stirs: everything that does not change from bait to bait.
type Shop struct {
	File      string
	Name      string
	Money     string
	Fed       float64
	FedGiven  bool
	ApartC    float64 // largest difference between two colours, degrees C
	Materials map[string]cavity.Plastisol
	Additives map[string]cavity.Additive
	Injectors map[string]laminate.Injector
	Vessels   map[string]laminate.Vessel
	Bench     Bench
	NewMold   NewMold
	Measures  units.Measures
}

// What has a default here is common practice, no source.
var shopKeys = []Key{
	{Name: "shop", Means: "the shop's own name", Unit: aName, Must: true, Example: "the corner shop"},
	{Name: "money", Means: "the word for what prices are in", Unit: aName, Example: "dollars"},
	{Name: "room", Means: "at which plastisol is measured cold", Unit: aHeat, Default: "21C", Example: "70F | 21C"},
	{Name: "apart", Means: "how far the heat of two colours may differ when they are shot", Unit: aHeat, Default: "5C", Example: "9F | 5C"},
	{Name: "fed", Means: "share of its shrinkage that a bait draws from the runner", Unit: aShare, Without: "50 %, marked assumed", Example: "40 % | 0.4"},
	{Name: "materials", Means: "the plastisols", Must: true, Keys: []Key{{Name: "MATERIAL", Keys: materialKeys, Example: "{density: 1.02, expansion: 0.0006, pour: 340F, ceiling: 375F}"}},
		Example: "{soft: {density: 1.02, expansion: 0.0006, pour: 340F, ceiling: 375F}}"},
	{Name: "additives", Means: "what is stirred in", Keys: []Key{{Name: "ADDITIVE", Keys: additiveKeys, Example: "{true: 2.165, when: before heating}"}},
		Example: "{salt: {loose: 1.217, true: 2.165, when: before heating}}"},
	{Name: "injectors", Means: "what fills molds", Must: true, Keys: []Key{{Name: "INJECTOR", Keys: injectorKeys, Example: "{barrels: {barrel: {holds: 8 fl oz}}}"}},
		Example: "{single: {barrels: {barrel: {holds: 8 fl oz}}}}"},
	{Name: "vessels", Means: "what plastisol is heated in", Must: true, Keys: []Key{{Name: "VESSEL", Keys: vesselKeys, Example: "{holds: 4 cups}"}},
		Example: "{quart cup: {holds: 4 cups}}"},
	{Name: "bench", Means: "how the shop works; orders use it", Keys: benchKeys, Example: "{shot: 30 s, refill: 20 s}"},
	{Name: "new_mold", Means: "how the shop cuts new molds; size --shop uses it", Keys: newMoldKeys, Example: "{spacing: 1/4 in, edge: 1/2 in}"},
	{Name: "measures", Means: "the finest that the shop measures with", Keys: measureKeys, Example: "{spoon: 1/4 tsp, cup: 1/4 cup, scale: 1 g}"},
}

// Outside of these limits a value is taken for a slip: a wrong letter, a wrong
// unit, a point in the wrong place.
const (
	coldestRoom    = units.Celsius(-10)
	hottestRoom    = units.Celsius(50)
	farthestApartC = 50
)

// ReadShop reads a shop file. Every error is an *Error, or Errors.
func ReadShop(path string) (*Shop, error) {
	r := &reading{}
	s, err := r.find(path)
	if s != nil && err == nil {
		err = notShop(s)
	}
	if s = r.told(s, err); s == nil {
		return nil, r.err()
	}
	shop := readShop(s)
	if err := r.err(); err != nil {
		return nil, err
	}
	return shop, nil
}

// notShop tells a mold file that is given for a shop file.
func notShop(s *section) *Error {
	if !s.has("materials") && (s.has("colours") || s.has("cavities")) {
		return &Error{File: s.doc.file, Msg: "this is a mold file; a shop file was expected (materials, injectors, vessels)"}
	}
	return nil
}

func readShop(s *section) *Shop {
	s.takes(shopKeys)
	shop := &Shop{
		File:      s.doc.file,
		Name:      take(s, "shop", word),
		Money:     take(s, "money", word),
		FedGiven:  s.has("fed"),
		Fed:       may(s, "fed", cavity.DefaultFed, units.ParseShare),
		ApartC:    take(s, "apart", units.ParseTemperatureDifference),
		Materials: map[string]cavity.Plastisol{},
		Additives: map[string]cavity.Additive{},
		Injectors: map[string]laminate.Injector{},
		Vessels:   map[string]laminate.Vessel{},
	}
	room := take(s, "room", units.ParseTemperature)
	if room < coldestRoom || room > hottestRoom {
		s.fail("room", "%v is no room to work in; was F written as C?", room)
	}
	if shop.ApartC > farthestApartC {
		s.fail("apart", "colours %s apart do not join; this is a difference, like 9F", units.DifferenceText(shop.ApartC))
	}
	each(s, "materials", func(name string, m *section) { shop.Materials[name] = readMaterial(name, room, m) })
	each(s, "additives", func(name string, a *section) { shop.Additives[name] = readAdditive(name, a) })
	each(s, "injectors", func(name string, i *section) { shop.Injectors[name] = readInjector(name, i) })
	each(s, "vessels", func(name string, v *section) { shop.Vessels[name] = readVessel(name, room, v) })
	shop.Bench = readBench(s, room)
	shop.NewMold = readNewMold(s)
	shop.Measures = readMeasures(s)
	return shop
}

// each reads every named mapping under a key.
func each(s *section, key string, f func(name string, sub *section)) {
	group := s.section(key)
	if group == nil {
		return
	}
	if s.entry(key).Must && len(group.order) == 0 {
		s.fail(key, "at least one is needed").write(s.entry(key).examples()...)
	}
	for _, name := range group.order {
		if sub := group.section(name); sub != nil {
			f(name, sub)
		}
	}
}
