package files

import (
	"slices"
	"strings"

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
}

// Editable defaults, all common practice, no source.
const (
	defaultRoom      = units.Celsius(21)
	defaultApartC    = 5
	defaultFill      = 0.5 // of a vessel, so that the foam of degassing stays inside
	hottestPlastisol = units.Celsius(205)
)

// ReadShop reads a shop file.
func ReadShop(path string) (*Shop, error) {
	s, err := open(path)
	if err != nil {
		return nil, err
	}
	shop := &Shop{
		File:      path,
		Name:      need(s, "shop", word),
		Money:     may(s, "money", "", word),
		FedGiven:  s.has("fed"),
		Fed:       may(s, "fed", cavity.DefaultFed, units.ParseShare),
		ApartC:    may(s, "apart", defaultApartC, units.ParseTemperatureDifference),
		Materials: map[string]cavity.Plastisol{},
		Additives: map[string]cavity.Additive{},
		Injectors: map[string]laminate.Injector{},
		Vessels:   map[string]laminate.Vessel{},
	}
	room := may(s, "room", defaultRoom, units.ParseTemperature)
	each(s, "materials", true, func(name string, m *section) { shop.Materials[name] = readMaterial(name, room, m) })
	each(s, "additives", false, func(name string, a *section) { shop.Additives[name] = readAdditive(name, a) })
	each(s, "injectors", true, func(name string, i *section) { shop.Injectors[name] = readInjector(name, i) })
	each(s, "vessels", true, func(name string, v *section) { shop.Vessels[name] = readVessel(name, v) })
	s.done()
	return shop, s.doc.err
}

// each reads every named mapping under a key.
func each(s *section, key string, required bool, f func(name string, sub *section)) {
	group := s.section(key, required)
	if group == nil {
		return
	}
	for _, name := range group.order {
		if sub := group.section(name, true); sub != nil {
			f(plainText(name), sub)
			sub.done()
		}
	}
}

func readMaterial(name string, room units.Celsius, s *section) cavity.Plastisol {
	p := cavity.Plastisol{
		Name: name, Room: room,
		DensityGML:    need(s, "density", density),
		ExpansionPerC: need(s, "expansion", number(0, 0.003)),
		Pour:          need(s, "pour", units.ParseTemperature),
		Ceiling:       need(s, "ceiling", units.ParseTemperature),
		PricePerML:    may(s, "price", 0, perVolume),
	}
	switch {
	case p.Ceiling > hottestPlastisol:
		s.fail("ceiling", "%v is past %v, where vinyl breaks down and gives off hydrogen chloride; was F written as C?", p.Ceiling, hottestPlastisol)
	case p.Pour > p.Ceiling:
		s.fail("pour", "%v is past this material's own ceiling of %v", p.Pour, p.Ceiling)
	case p.Pour < room:
		s.fail("pour", "%v is colder than the room at %v", p.Pour, room)
	}
	return p
}

func readAdditive(name string, s *section) cavity.Additive {
	return cavity.Additive{
		Name:     name,
		TrueGML:  need(s, "true", density),
		LooseGML: may(s, "loose", 0, density),
		When: need(s, "when", func(t string) (cavity.When, error) {
			w, err := choice("before", "after")(strings.TrimSuffix(strings.ToLower(t), " heating"))
			if w == "after" {
				return cavity.AfterHeating, err
			}
			return cavity.BeforeHeating, err
		}),
		DropML: may(s, "drop", 0, func(t string) (float64, error) {
			v, err := units.ParseVolume(t)
			return v.ML(), err
		}),
		PricePerGram: may(s, "price", 0, perMass),
	}
}

func readInjector(name string, s *section) laminate.Injector {
	in := laminate.Injector{Name: name}
	each(s, "barrels", true, func(barrel string, b *section) { in.Barrels = append(in.Barrels, readBarrel(barrel, b)) })
	pair := len(in.Barrels) == 2
	in.Drive = read(s, "drive", laminate.Independent, pair, choice(laminate.Independent, laminate.Ganged))
	if n := len(in.Barrels); n != 1 && n != 2 {
		s.fail("barrels", "an injector has one barrel or two, not %d", n)
	}
	if in.Drive == laminate.Ganged && slices.ContainsFunc(in.Barrels, func(b laminate.Barrel) bool { return b.BoreMM == 0 }) {
		s.fail("barrels", "ganged barrels need their bores, since these fix the ratio: add bore: to each")
	}
	return in
}

func readBarrel(name string, s *section) laminate.Barrel {
	b := laminate.Barrel{
		Name:       name,
		BoreMM:     may(s, "bore", 0, units.ParseLength).MM(),
		CapacityML: need(s, "holds", units.ParseVolume).ML(),
		KeepsML:    may(s, "keeps", 0, units.ParseVolume).ML(),
	}
	if b.KeepsML >= b.CapacityML {
		s.fail("keeps", "a barrel that holds %v cannot keep %v", units.Volume(b.CapacityML), units.Volume(b.KeepsML))
	}
	if s.has("bore") && b.BoreMM < 1 {
		s.fail("bore", "a bore of %.2f mm cannot be; write it like 32 mm or 1 1/4 in", b.BoreMM)
	}
	return b
}

func readVessel(name string, s *section) laminate.Vessel {
	v := laminate.Vessel{
		Name:    name,
		HoldsML: need(s, "holds", units.ParseVolume).ML(),
		Fill:    may(s, "fill", defaultFill, units.ParseShare),
		KeepsML: may(s, "keeps", 0, units.ParseVolume).ML(),
	}
	if !(v.Fill > 0) {
		s.fail("fill", "a vessel that may not be filled is of no use; 50 %% is common")
	}
	if v.KeepsML >= v.HoldsML*v.Fill {
		s.fail("keeps", "a vessel filled with %v cannot keep %v", units.Volume(v.HoldsML*v.Fill), units.Volume(v.KeepsML))
	}
	return v
}
