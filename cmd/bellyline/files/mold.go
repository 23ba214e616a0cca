package files

import (
	"cmp"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
	"bellyline/mesh"
)

// Mold is a mold file: one bait, the mold that makes it, and how it is poured.
type Mold struct {
	File       string
	Shop       *Shop
	Bait, Name string
	Model      *Model     // nil when the bait was only weighed
	Weighed    units.Mass // otherwise
	Cavities   int
	Feed       []Channel
	Fed        float64
	FedGiven   bool
	Line       laminate.Line
	Colours    []laminate.Colour
	Injector   laminate.Injector // barrels in the order of the colours
	Vessel     laminate.Vessel
	Baits      int
}

// Model is the STL of a bait and how it lies in space.
type Model struct {
	Path       string
	Unit       mesh.Unit
	Back, Nose r3.Vector
}

// Channel is a part of the feed; with a Model its volume is still to be measured.
type Channel struct {
	cavity.Channel
	Model *Model
}

// ReadMold reads a mold file and the shop file that it names.
func ReadMold(path string) (*Mold, error) {
	s, err := open(path)
	if err != nil {
		return nil, err
	}
	shopPath := beside(path, need(s, "shop", word))
	if s.doc.err != nil {
		return nil, s.doc.err
	}
	shop, err := ReadShop(shopPath)
	if err != nil {
		return nil, err
	}
	m := &Mold{
		File: path, Shop: shop,
		Bait:     need(s, "bait", word),
		Name:     need(s, "mold", word),
		Cavities: need(s, "cavities", count(1, 1000)),
		FedGiven: s.has("fed") || shop.FedGiven,
		Fed:      may(s, "fed", shop.Fed, units.ParseShare),
		Baits:    may(s, "order", 0, count(1, 10_000_000)),
	}
	m.readBait(s)
	m.Feed = readFeed(path, s)
	m.readColours(s)
	m.readLine(s)
	m.Vessel = lookUp(s, "vessel", shop.Vessels)
	s.done()
	return m, s.doc.err
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
		s.fail(key, "the shop file has no %q; it has: %s", name, strings.Join(slices.Sorted(maps.Keys(among)), ", "))
	}
	return v
}

// readBait reads the model, or the weight of a bait when there is none.
func (m *Mold) readBait(s *section) {
	hasModel, hasWeight := s.has("model"), s.has("weighed")
	switch {
	case hasModel && hasWeight:
		s.fail("weighed", "give the model or a weighed bait, not both")
	case hasModel:
		m.Model = readModel(m.File, s, need(s, "model", word))
		m.Model.Back = may(s, "back", r3.Vector{Z: 1}, direction)
		m.Model.Nose = may(s, "nose", r3.Vector{X: 1}, direction)
		if s.doc.err == nil && m.Model.Back.Dot(m.Model.Nose) > 0.9 {
			s.fail("nose", "back and nose point the same way")
		}
	case hasWeight:
		m.Weighed = need(s, "weighed", units.ParseMass)
		if !(m.Weighed > 0) {
			s.fail("weighed", "a bait weighs more than nothing")
		}
	default:
		s.fail("", "needs a model (model: bait.stl) or a weighed bait (weighed: 9.8 g)")
	}
}

func readModel(file string, s *section, path string) *Model {
	return &Model{Path: beside(file, path), Unit: may(s, "unit", mesh.Unit(1), mesh.ParseUnit)}
}

// feedNames are the parts of a feed, in the order of the flow, and trimmings,
// which are all of it weighed at once.
var feedNames = [...]string{"plug", "sprue", "runner", "gates", "trimmings"}

func readFeed(file string, s *section) []Channel {
	group := s.section("feed", true)
	if group == nil {
		return nil
	}
	var feed []Channel
	for _, name := range feedNames {
		if sub := group.section(name, false); sub != nil {
			feed = append(feed, readChannel(file, name, sub))
			sub.done()
		}
	}
	group.done()
	if group.has("trimmings") && len(feed) > 1 {
		group.fail("trimmings", "weighed trimmings are the whole feed: give them, or its parts, not both")
	}
	return feed
}

// readChannel reads one part: a model, a volume, a weight, or a round or flat
// channel by its sizes.
func readChannel(file, name string, s *section) Channel {
	c := Channel{Channel: cavity.Channel{Name: name, Count: may(s, "count", 1, count(1, 10_000))}}
	ways := 0
	for _, key := range []string{"model", "volume", "weighed", "length"} {
		if s.has(key) {
			ways++
		}
	}
	if ways != 1 {
		s.fail("", "give one of: model (a file), volume (like 6 mL), weighed (like 7 g), or length with diameter or with width and depth")
		return c
	}
	switch {
	case s.has("model"):
		path := need(s, "model", word)
		c.Model, c.Source = readModel(file, s, path), "model "+path
	case s.has("volume"):
		c.VolumeML, c.Source = need(s, "volume", units.ParseVolume).ML(), "as given"
	case s.has("weighed"):
		c.MassG, c.Source = need(s, "weighed", units.ParseMass).G(), "weighed"
	default:
		c.VolumeML, c.Source = readChannelSizes(s), "by its sizes"
	}
	return c
}

func readChannelSizes(s *section) float64 {
	length := need(s, "length", units.ParseLength).MM()
	if s.has("diameter") {
		d := need(s, "diameter", units.ParseLength)
		return cavity.RoundML(length, d.MM(), may(s, "to", d, units.ParseLength).MM())
	}
	return cavity.FlatML(length, need(s, "width", units.ParseLength).MM(), need(s, "depth", units.ParseLength).MM())
}

// readColours reads the colours from belly to back and puts the injector's
// barrels into their order.
func (m *Mold) readColours(s *section) {
	injector := lookUp(s, "injector", m.Shop.Injectors)
	m.Injector = laminate.Injector{Name: injector.Name, Drive: injector.Drive}
	list := s.list("colours")
	if n := len(list); s.doc.err == nil && n != 1 && n != 2 {
		s.fail("colours", "one colour, or two from belly to back, not %d", n)
	}
	for _, c := range list {
		m.Colours = append(m.Colours, m.readColour(c, len(list)))
		m.Injector.Barrels = append(m.Injector.Barrels, pickBarrel(c, injector, m.Injector.Barrels))
		c.done()
	}
	if len(m.Colours) == 2 && s.doc.err == nil && m.Colours[0].Name == m.Colours[1].Name {
		s.fail("colours", "both colours are called %q; name them apart", m.Colours[0].Name)
	}
}

func (m *Mold) readColour(s *section, of int) laminate.Colour {
	c := laminate.Colour{
		Name: need(s, "name", word),
		Half: read(s, "half", "", of == 2, word),
	}
	c.Mix.Plastisol = lookUp(s, "material", m.Shop.Materials)
	if mix := s.section("mix", false); mix != nil {
		for _, name := range mix.order {
			additive, ok := m.Shop.Additives[name]
			if !ok {
				mix.fail(name, "the shop file has no additive %q; it has: %s", name, strings.Join(slices.Sorted(maps.Keys(m.Shop.Additives)), ", "))
			}
			dose := cavity.Dose{Additive: additive, PerCup: need(mix, name, units.ParseAmount)}
			if _, err := dose.GramsPerML(c.Mix.Plastisol); err != nil && s.doc.err == nil {
				mix.fail(name, "%v; add it to the shop file", err)
			}
			c.Mix.Doses = append(c.Mix.Doses, dose)
		}
	}
	return c
}

// pickBarrel finds the barrel that a colour names; with one barrel, or one left, it need not.
func pickBarrel(s *section, in laminate.Injector, taken []laminate.Barrel) laminate.Barrel {
	free := slices.DeleteFunc(slices.Clone(in.Barrels), func(b laminate.Barrel) bool { return slices.Contains(taken, b) })
	if !s.has("barrel") && len(in.Barrels) == 1 && len(free) == 1 {
		return free[0]
	}
	name := need(s, "barrel", word)
	for _, b := range free {
		if b.Name == name {
			return b
		}
	}
	names := make([]string, len(free))
	for i, b := range free {
		names[i] = b.Name
	}
	s.fail("barrel", "injector %q has no free barrel %q; free: %s", in.Name, name, cmp.Or(strings.Join(names, ", "), "none"))
	return laminate.Barrel{}
}

func (m *Mold) readLine(s *section) {
	if len(m.Colours) != 2 {
		if s.has("line") {
			s.fail("line", "one colour has no colour line; take it out or add a colour")
		}
		return
	}
	if sub := s.section("line", true); sub != nil {
		m.Line = readLine(sub)
		sub.done()
		if m.Line.ByHeight && m.Model == nil && s.doc.err == nil {
			sub.fail("height", "a height needs a model of the bait; give belly_share: 40/60 instead")
		}
	}
}
