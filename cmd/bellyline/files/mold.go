package files

import (
	"errors"
	"maps"
	"path/filepath"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cavity/water"
	"bellyline/laminate"
	"bellyline/mesh/stl"
)

// Mold is a mold file: one bait, the mold that makes it, and how it is poured.
type Mold struct {
	File       string
	Shop       *Shop
	Bait, Name string
	Model      *Model     // nil when the bait was only weighed
	Halves     *Halves    // nil when the bait has a model of its own or was weighed
	Weighed    units.Mass // otherwise
	Cavities   int        // 0 when it is for the halves to say
	Feed       []Channel
	Fed        float64
	FedGiven   bool
	Line       laminate.Line // between two colours
	Shares     []float64     // of three colours and more
	Colours    []laminate.Colour
	Injector   laminate.Injector // barrels in the order of the colours
	Apart      laminate.Apart
	Across     *laminate.Across
	Vessel     laminate.Vessel
	Baits      int
	OpensAfter units.Seconds // from the shot until the mold is free again; 0 when not given
	Hook       laminate.Hook
	WaterC     float64
	Weighings  laminate.Weighings
}

// Model is the STL of a bait and how it lies in space.
type Model struct {
	Path       string
	Unit       stl.Unit
	Back, Nose r3.Vector
}

// Channel is a part of the feed; with a Model its volume is still to be measured.
type Channel struct {
	cavity.Channel
	Model *Model
}

// ReadMold reads a mold file, or standard input for "-", and the shop file that
// it names. Every error is an *Error.
func ReadMold(path string) (*Mold, error) {
	s, err := openArgument(path)
	if err != nil {
		return nil, err
	}
	shop, err := readShopOf(s)
	if err != nil {
		return nil, err
	}
	return readMold(s, shop)
}

// readMold reads the rest of a mold file, once its shop file is read.
func readMold(s *section, shop *Shop) (*Mold, error) {
	m := &Mold{
		File: s.doc.file, Shop: shop,
		Bait:     need(s, "bait", word),
		Name:     need(s, "mold", word),
		Cavities: read(s, "cavities", 0, !s.has("halves"), count(1, 1000)),
		FedGiven: s.has("fed") || shop.FedGiven,
		Fed:      may(s, "fed", shop.Fed, units.ParseShare),
		Baits:    may(s, "order", 0, count(1, 10_000_000)),

		OpensAfter: may(s, "opens_after", 0, positive(pause)),
	}
	m.readBait(s)
	m.Feed = readFeed(s, m.Halves != nil)
	m.readColours(s)
	m.orderHalves(s)
	m.readLine(s)
	m.checkHalves(s)
	m.readStart(s)
	m.readStreams(s)
	m.Vessel = lookUp(s, "vessel", shop.Vessels)
	m.readWater(s)
	m.readWeighings(s)
	s.done()
	return m, s.doc.err
}

// readShopOf reads the shop file that a mold file names.
func readShopOf(s *section) (*Shop, error) {
	if s.holds("materials") && !s.holds("colours") {
		return nil, &Error{File: s.doc.file, Msg: "this is a shop file; give a mold file, which names its shop file"}
	}
	shopPath := s.doc.beside(need(s, "shop", filePath))
	if s.doc.err != nil {
		return nil, s.doc.err
	}
	var shop *Shop
	text, err := s.doc.openShop(shopPath)
	if err == nil {
		shop, err = readShop(text)
	}
	if e, ok := errors.AsType[*Error](err); ok && e.Line == 0 {
		// It is no shop file at all, so it is the line that names it that must be mended.
		s.fail("shop", "%v", err)
		return nil, s.doc.err
	}
	return shop, err
}

func beside(file, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(file), filepath.FromSlash(name))
}

// lookUp finds a name of the mold file in the shop file.
func lookUp[T any](s *section, key string, among map[string]T) T {
	name := need(s, key, word)
	v, ok := among[name]
	if !ok && s.doc.err == nil {
		s.fail(key, "the shop file has no %s %q; %s", key, name, choices(name, slices.Collect(maps.Keys(among))))
	}
	return v
}

// readBait reads the model, or the weight of a bait when there is none.
func (m *Mold) readBait(s *section) {
	hasModel, hasWeight := s.has("model"), s.has("weighed")
	switch {
	case s.has("halves"):
		m.Halves = readHalves(s)
		for _, other := range []string{"model", "weighed"} {
			if s.has(other) {
				s.fail(other, "the bait's shape comes from the halves; take this out, or the halves")
			}
		}
	case hasModel && hasWeight:
		s.fail("weighed", "give the model or a weighed bait, not both")
	case hasModel:
		m.Model = readModel(s, need(s, "model", filePath))
		m.Model.Back = may(s, "back", r3.Vector{Z: 1}, direction)
		m.Model.Nose = may(s, "nose", r3.Vector{X: 1}, direction)
		if _, err := cavity.NewFrame(m.Model.Back, m.Model.Nose); err != nil {
			s.fail("nose", "%v", err)
		}
	case hasWeight:
		m.Weighed = need(s, "weighed", positive(units.ParseMass))
	case s.holds("weighings"): // it must then have baits
	default:
		s.noneOf([]string{"model", "weighed", "halves"}, "needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)")
	}
}

// readColours reads the colours from belly to back and puts the injector's
// barrels into their order.
func (m *Mold) readColours(s *section) {
	m.takeColours(s, lookUp(s, "injector", m.Shop.Injectors))
}

// takeColours reads a list of colours for an injector.
func (m *Mold) takeColours(s *section, injector laminate.Injector) {
	m.Injector = laminate.Injector{Name: injector.Name, Drive: injector.Drive}
	list := s.list("colours")
	switch n := len(list); {
	case n < 1 || n > laminate.MostColours:
		s.fail("colours", "one colour, or two to %d from belly to back, not %d", laminate.MostColours, n)
	case n == 2 && len(injector.Barrels) == 1:
		s.fail("injector", "%q has one barrel; two colours need an injector with two", injector.Name)
	case n > 1 && n > len(injector.Barrels):
		s.fail("injector", "%q has %d barrels; %d colours shot at once need as many", injector.Name, len(injector.Barrels), n)
	}
	for i, c := range list {
		if s.doc.err != nil {
			return
		}
		colour := m.readColour(c, len(list) > 1 && (i == 0 || i == len(list)-1))
		m.Injector.Barrels = append(m.Injector.Barrels, m.pickBarrel(c, injector))
		m.Colours = append(m.Colours, colour)
		c.done()
	}
	for i, c := range m.Colours {
		same := func(o laminate.Colour) bool { return o.Name == c.Name }
		if slices.ContainsFunc(m.Colours[:i], same) {
			s.fail("colours", "%s colours are called %q; name them apart", map[bool]string{true: "both", false: "two"}[len(m.Colours) == 2], c.Name)
		}
	}
}

// readColour reads one colour; one that lies in a half of the mold says which.
func (m *Mold) readColour(s *section, inHalf bool) laminate.Colour {
	c := laminate.Colour{
		Name: need(s, "name", word),
		Half: read(s, "half", "", inHalf, word),

		TakesMixed: may(s, "mixed", 0, units.ParseShare),
	}
	c.Mix.Plastisol = lookUp(s, "material", m.Shop.Materials)
	c.Mix.Plastisol.Pour = may(s, "pour", c.Mix.Plastisol.Pour, units.ParseTemperature)
	checkPour(s, c.Mix.Plastisol)
	trial := may(s, "mix_for", units.Cup, positive(units.ParseVolume))
	if mix := s.section("mix", false); mix != nil {
		for _, name := range mix.order {
			c.Mix.Doses = append(c.Mix.Doses, m.readDose(mix, name, c.Mix.Plastisol, trial))
		}
	}
	return c
}

// readDose reads how much of an additive went into a trial of so much plastisol, and
// scales it to one cup. Nothing is rounded here, so an order is as the trial was but
// for the rounding of what is measured in the end.
func (m *Mold) readDose(mix *section, name string, p cavity.Plastisol, trial units.Volume) cavity.Dose {
	additive, ok := m.Shop.Additives[name]
	if !ok {
		mix.fail(name, "the shop file has no additive %q; %s", name, choices(name, slices.Collect(maps.Keys(m.Shop.Additives))))
	}
	d := cavity.Dose{Additive: additive, PerCup: need(mix, name, units.ParseAmount)}
	if d.PerCup.Kind != units.ByPercent {
		d.PerCup = d.PerCup.Times(float64(units.Cup / trial))
	}
	switch grams, err := d.GramsPerML(p); {
	case d.PerCup.Kind == units.ByVolume && additive.LooseGML == 0:
		mix.fail(name, "an amount in spoons or cups needs the additive's loose density in the shop file (loose: 1.2; weigh a level 1/4 cup, divide the grams by 59.15); or give it in g")
	case err != nil:
		mix.fail(name, "%v", err)
	case grams > additive.TrueGML:
		mix.fail(name, "%v is more of it than of plastisol; amounts are for one cup of plastisol", d.PerCup)
	}
	return d
}

// pickBarrel finds the barrel that a colour names; the only one need not be named.
func (m *Mold) pickBarrel(s *section, in laminate.Injector) laminate.Barrel {
	if !s.has("barrel") && len(in.Barrels) == 1 {
		return in.Barrels[0]
	}
	name := need(s, "barrel", word)
	var names []string
	for _, b := range in.Barrels {
		names = append(names, b.Name)
		switch {
		case b.Name != name:
		case slices.Contains(m.Injector.Barrels, b):
			s.fail("barrel", "the %s barrel holds the first colour; give the other", name)
		default:
			return b
		}
	}
	s.fail("barrel", "injector %q has no barrel %q; %s", in.Name, name, choices(name, names))
	return laminate.Barrel{}
}

// readWater reads what the bait swims in and what hangs on it.
func (m *Mold) readWater(s *section) {
	m.WaterC = float64(may(s, "water", laminate.DefaultWaterC, units.ParseTemperature))
	if err := (water.Water{TempC: m.WaterC}).Check(); err != nil && s.doc.err == nil {
		s.fail("water", "%v", err)
	}
	if hook := s.section("hook", false); hook != nil {
		m.Hook = laminate.Hook{
			MassG:    need(hook, "weight", positive(units.ParseMass)).G(),
			VolumeML: need(hook, "volume", positive(units.ParseVolume)).ML(),
		}
		if m.Hook.MassG > laminate.HeaviestHookGML*m.Hook.VolumeML {
			hook.fail("volume", "%.3g g in %.3g mL is denser than any metal; give the water that the hook pushes up in a full glass", m.Hook.MassG, m.Hook.VolumeML)
		}
		hook.done()
	}
}

func (m *Mold) readLine(s *section) {
	switch n := len(m.Colours); {
	case n > 2:
		m.readShares(s)
		return
	case n < 2:
		if s.has("line") {
			s.fail("line", "one colour has no colour line; take it out or add a colour")
		}
		return
	}
	if sub := s.section("line", true); sub != nil {
		m.Line = readLine(sub)
		sub.done()
		if m.Line.ByPlace && m.Model == nil && m.Halves == nil {
			sub.fail("height", "a height needs a model of the bait; give belly_share: 40/60 instead")
		}
		if m.Line.Kind() != laminate.KindLevel && m.Model == nil && m.Halves == nil {
			sub.fail("kind", "a %s line needs a model of the bait; a weighed bait takes belly_share: 40/60 alone", m.Line.Kind())
		}
	}
}

// readShares reads the line of three colours and more, which lie one over the other.
func (m *Mold) readShares(s *section) {
	sub := s.section("line", true)
	if sub == nil {
		return
	}
	m.Shares = need(sub, "shares", units.ParseShares)
	if n := len(m.Colours); len(m.Shares) != n && s.doc.err == nil {
		sub.fail("shares", "%d colours need a share each, like 20/50/30, not %d", n, len(m.Shares))
	}
	sub.done()
}
