package files

import (
	"fmt"
	"slices"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/plain"
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

// Editable defaults, all common practice, no source.
const (
	defaultRoom   = units.Celsius(21)
	defaultApartC = 5
	defaultFill   = 0.5 // of a vessel, so that the foam of degassing stays inside
)

// Outside of these limits a value is taken for a slip: a wrong letter, a wrong
// unit, a point in the wrong place.
const (
	coldestRoom    = units.Celsius(-10)
	hottestRoom    = units.Celsius(50)
	farthestApartC = 50
	// Plasticizers weigh 0.92 g/mL and more, PVC 1.40 and less; fillers add to that.
	lightestPlastisol, heaviestPlastisol = 0.8, 2.0
	lightestAdditive, heaviestAdditive   = 0.01, 25 // a loose fluff, a precious metal
	narrowestBoreMM, widestBoreMM        = 1, 300
	largestDropML                        = 0.5
)

// ReadShop reads a shop file. Every error is an *Error.
func ReadShop(path string) (*Shop, error) {
	s, err := open(path)
	if err != nil {
		return nil, err
	}
	return readShop(s)
}

func readShop(s *section) (*Shop, error) {
	if !s.holds("materials") && (s.holds("colours") || s.holds("cavities")) {
		return nil, &Error{File: s.doc.file, Msg: "this is a mold file; a shop file was expected (materials, injectors, vessels)"}
	}
	shop := &Shop{
		File:      s.doc.file,
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
	if room < coldestRoom || room > hottestRoom {
		s.fail("room", "%v is no room to work in; was F written as C?", room)
	}
	if shop.ApartC > farthestApartC {
		s.fail("apart", "colours %s apart do not join; this is a difference, like 9F", units.DifferenceText(shop.ApartC))
	}
	each(s, "materials", true, func(name string, m *section) { shop.Materials[name] = readMaterial(name, room, m) })
	each(s, "additives", false, func(name string, a *section) { shop.Additives[name] = readAdditive(name, a) })
	each(s, "injectors", true, func(name string, i *section) { shop.Injectors[name] = readInjector(name, i) })
	each(s, "vessels", true, func(name string, v *section) { shop.Vessels[name] = readVessel(name, room, v) })
	shop.Bench = readBench(s, room)
	shop.NewMold = readNewMold(s)
	shop.Measures = readMeasures(s)
	s.done()
	return shop, s.doc.err
}

// each reads every named mapping under a key.
func each(s *section, key string, required bool, f func(name string, sub *section)) {
	group := s.section(key, required)
	if group == nil {
		return
	}
	if required && len(group.order) == 0 {
		s.fail(key, "at least one is needed%s", exampleOf(group.key))
	}
	for _, name := range group.order {
		if sub := group.section(name, true); sub != nil {
			f(name, sub)
			sub.done()
		}
	}
}

func readMaterial(name string, room units.Celsius, s *section) cavity.Plastisol {
	p := cavity.Plastisol{
		Name: name, Room: room,
		DensityGML:    need(s, "density", density(lightestPlastisol, heaviestPlastisol)),
		ExpansionPerC: need(s, "expansion", number(0.003)),
		Pour:          need(s, "pour", units.ParseTemperature),
		Ceiling:       need(s, "ceiling", units.ParseTemperature),
		Coldest:       may(s, "coldest", 0, units.ParseTemperature),
		PricePerML:    may(s, "price", 0, perVolume),
	}
	switch {
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
	case s.doc.err != nil:
	case p.Pour > p.Ceiling:
		s.fail("pour", "%v is past this material's own ceiling of %v", p.Pour, p.Ceiling)
	case p.Pour < cavity.ColdestPour:
		s.fail("pour", "%s", cavity.BelowColdestPour(p.Pour))
	case p.Coldest != 0 && !(p.Coldest > p.Room && p.Coldest < p.Pour):
		s.fail("pour", "%v, and too thick to fill a mold at %v (coldest): that must lie between the room and where it is poured", p.Pour, p.Coldest)
	}
}

func readAdditive(name string, s *section) cavity.Additive {
	a := cavity.Additive{
		Name:         name,
		TrueGML:      need(s, "true", density(lightestAdditive, heaviestAdditive)),
		LooseGML:     may(s, "loose", 0, density(lightestAdditive, heaviestAdditive)),
		When:         need(s, "when", when),
		DropML:       may(s, "drop", 0, positive(units.ParseVolume)).ML(),
		PricePerGram: may(s, "price", 0, perMass),
	}
	if a.LooseGML > a.TrueGML {
		s.fail("loose", "loose grains hold air, so loose cannot be more than true; were the two swapped?")
	}
	if a.DropML > largestDropML {
		s.fail("drop", "%.3g mL is no drop; one is near 0.05 mL", a.DropML)
	}
	return a
}

// when reads "before heating" or "after heating"; the second word may go.
func when(t string) (cavity.When, error) {
	switch strings.ToLower(plain.Name(t)) {
	case "before", string(cavity.BeforeHeating):
		return cavity.BeforeHeating, nil
	case "after", string(cavity.AfterHeating):
		return cavity.AfterHeating, nil
	}
	return "", fmt.Errorf("%q is not one of: %s, %s", t, cavity.BeforeHeating, cavity.AfterHeating)
}

func readInjector(name string, s *section) laminate.Injector {
	in := laminate.Injector{Name: name}
	each(s, "barrels", true, func(barrel string, b *section) { in.Barrels = append(in.Barrels, readBarrel(barrel, b)) })
	several := len(in.Barrels) > 1
	in.Drive = read(s, "drive", laminate.Independent, several, choice(laminate.Independent, laminate.Ganged))
	if n := len(in.Barrels); n < 1 || n > laminate.MostColours {
		s.fail("barrels", "an injector has one barrel to %d, not %d", laminate.MostColours, n)
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
		CapacityML: need(s, "holds", positive(units.ParseVolume)).ML(),
		KeepsML:    may(s, "keeps", 0, units.ParseVolume).ML(),
	}
	if b.KeepsML >= b.CapacityML {
		s.fail("keeps", "a barrel that holds %v cannot keep %v", units.Volume(b.CapacityML), units.Volume(b.KeepsML))
	}
	if s.has("bore") && (b.BoreMM < narrowestBoreMM || b.BoreMM > widestBoreMM) {
		s.fail("bore", "a bore of %v cannot be; write it like 32 mm or 1 1/4 in", units.Length(b.BoreMM))
	}
	return b
}

func readVessel(name string, room units.Celsius, s *section) laminate.Vessel {
	v := laminate.Vessel{
		Name:    name,
		HoldsML: need(s, "holds", positive(units.ParseVolume)).ML(),
		Fill:    may(s, "fill", defaultFill, units.ParseShare),
		KeepsML: may(s, "keeps", 0, units.ParseVolume).ML(),
	}
	v.Cooling = readCooling(room, s)
	if !(v.Fill > 0) {
		s.fail("fill", "a vessel that may not be filled is of no use; 50 %% is common")
	}
	if v.KeepsML >= v.HoldsML*v.Fill {
		s.fail("keeps", "a vessel filled with %v cannot keep %v", units.Volume(v.HoldsML*v.Fill), units.Volume(v.KeepsML))
	}
	return v
}
