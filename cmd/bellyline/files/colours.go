package files

import (
	"maps"
	"slices"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

var colourKeys = []Key{
	{Name: "name", Means: "what the colour is called", Unit: aName, Must: true, Example: "belly"},
	{Name: "material", Means: "its plastisol, as the shop file calls it", Unit: aName, Must: true, Example: "soft"},
	{Name: "barrel", Means: "the barrel that it is drawn into, as the shop file calls it", Unit: aName, Without: "needed with several barrels", Example: "left"},
	{Name: "half", Means: "the mold half that this colour lies in", Unit: aName, Without: "needed of the lowest and the highest of several", Example: "lower half"},
	{Name: "pour", Means: "how hot it is poured", Unit: aHeat, Without: "as its material says", Example: "345F | 174C"},
	{Name: "mix", Means: "what is stirred into a cup of plastisol, by the shop file's names", Keys: []Key{
		{Name: "ADDITIVE", Means: "how much of it", Unit: "tsp, tbsp, cup, g, drops, %", Example: doseExamples}}, Example: "{salt: 1/8 cup}"},
	{Name: "mix_for", Means: "the mix is of a trial of so much plastisol", Unit: aVolume, Default: "1 cup", Example: "1/4 cup"},
	{Name: "mixed", Means: "share of its batch that may be mixed trimmings; orders use it", Unit: aShare, Default: "0 %", Example: "20 %"},
}

// How doses are written, and those of an additive that no spoon measures.
const (
	doseExamples  = "1/4 tsp | 1/8 cup | " + plainExamples
	plainExamples = "3 g | 6 drops | 2 %"
)

// readColours reads the colours from belly to back and puts the injector's
// barrels into their order.
func (m *Mold) readColours(s *section) {
	m.takeColours(s, lookUp(s, "injector", m.Shop.Injectors))
}

// takeColours reads a list of colours for an injector.
func (m *Mold) takeColours(s *section, injector laminate.Injector) {
	m.Injector = laminate.Injector{Name: injector.Name, Drive: injector.Drive}
	list := s.list("colours")
	judged := s.sound("injector", "colours") && !s.doc.blind
	switch n := len(list); {
	case s.sound("colours") && (n < 1 || n > laminate.MostColours):
		s.fail("colours", "one colour, or two to %d from belly to back, not %d", laminate.MostColours, n)
		judged = false
	case judged && n == 2 && len(injector.Barrels) == 1:
		s.fail("injector", "%q has one barrel; two colours need an injector with two", injector.Name)
		judged = false
	case judged && n > 1 && n > len(injector.Barrels):
		s.fail("injector", "%q has %d barrels; %d colours shot at once need as many", injector.Name, len(injector.Barrels), n)
		judged = false
	}
	for i, c := range list {
		half := ""
		switch {
		case len(list) == 1:
		case i == 0:
			half = "lower half"
		case i == len(list)-1:
			half = "upper half"
		}
		m.Colours = append(m.Colours, m.readColour(c, half))
		if judged {
			m.Injector.Barrels = append(m.Injector.Barrels, m.pickBarrel(c, injector))
		}
	}
	for i, c := range m.Colours {
		same := func(o laminate.Colour) bool { return o.Name == c.Name && c.Name != "" }
		if slices.ContainsFunc(m.Colours[:i], same) {
			s.fail("colours", "%s colours are called %q; name them apart", map[bool]string{true: "both", false: "two"}[len(m.Colours) == 2], c.Name)
		}
	}
}

// readColour reads one colour; one that lies in a half of the mold, which may be called
// so, says which.
func (m *Mold) readColour(s *section, half string) laminate.Colour {
	c := laminate.Colour{Name: take(s, "name", word), Half: take(s, "half", word), TakesMixed: take(s, "mixed", units.ParseShare)}
	if half != "" && !s.has("half") {
		s.missingLike("half", half)
	}
	c.Mix.Plastisol = lookUp(s, "material", m.Shop.Materials)
	c.Mix.Plastisol.Pour = may(s, "pour", c.Mix.Plastisol.Pour, units.ParseTemperature)
	judged := s.sound("material", "pour") && !s.doc.blind
	if judged {
		checkPour(s, c.Mix.Plastisol)
	}
	trial := take(s, "mix_for", positive(units.ParseVolume))
	if mix := s.section("mix"); mix != nil && s.sound("mix_for") && judged {
		for _, name := range mix.order {
			if a, ok := m.Shop.Additives[name]; ok && a.LooseGML == 0 {
				mix.known = append([]Key{{Name: name, Example: plainExamples}}, mix.known...)
			}
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
		names := slices.Collect(maps.Keys(m.Shop.Additives))
		mix.fail(name, "the shop file has no additive %q; %s", name, choices(name, names)).Fix = Fix{Rename: nearest(name, names), Remove: nearest(name, names) == ""}
	}
	d := cavity.Dose{Additive: additive, PerCup: need(mix, name, units.ParseAmount)}
	if !mix.sound(name) {
		return d
	}
	if d.PerCup.Kind != units.ByPercent {
		d.PerCup = d.PerCup.Times(float64(units.Cup / trial))
	}
	switch grams, err := d.GramsPerML(p); {
	case d.PerCup.Kind == units.ByVolume && additive.LooseGML == 0:
		mix.fail(name, "an amount in spoons or cups needs the additive's loose density in the shop file (loose: 1.2; weigh a level 1/4 cup, divide the grams by 59.15); or give it in g").Fix = Fix{Value: "3 g"}
	case err != nil:
		mix.fail(name, "%v", err)
	case grams > additive.TrueGML:
		mix.fail(name, "%v is more of it than of plastisol; amounts are for one cup of plastisol", d.PerCup).Fix = Fix{Value: "3 g"}
	}
	return d
}

// pickBarrel finds the barrel that a colour names; the only one need not be named.
func (m *Mold) pickBarrel(s *section, in laminate.Injector) laminate.Barrel {
	if !s.has("barrel") && len(in.Barrels) == 1 {
		return in.Barrels[0]
	}
	var names, free []string
	for _, b := range in.Barrels {
		names = append(names, b.Name)
		if !slices.Contains(m.Injector.Barrels, b) {
			free = append(free, b.Name)
		}
	}
	if !s.has("barrel") && len(free) > 0 {
		s.missingLike("barrel", Scalar(free[0]))
	}
	name := need(s, "barrel", word)
	switch i := slices.Index(names, name); {
	case !s.sound("barrel"):
	case i < 0:
		s.fail("barrel", "injector %q has no barrel %q; %s", in.Name, name, choices(name, names)).Fix = Fix{Value: Scalar(nearestOrFirst(name, free))}
	case !slices.Contains(free, name):
		s.fail("barrel", "the %s barrel holds the first colour; give the other", name).Fix = Fix{Value: Scalar(nearestOrFirst("", free))}
	default:
		return in.Barrels[i]
	}
	return laminate.Barrel{}
}

// ColourText is one colour of a mold file as people write it.
type ColourText struct {
	Name, Material, Barrel, Half string // Barrel and Half may be empty
	Pour                         string // empty: as the material says
	Mix                          []DoseText
}

// DoseText is one additive, and how much of it goes to a cup of plastisol.
type DoseText struct {
	Additive string `json:"additive"`
	PerCup   string `json:"per_cup"`
}

// ColoursText writes the colours of a mold file.
func ColoursText(colours []ColourText) string {
	var out strings.Builder
	for _, c := range colours {
		key := "\n  - "
		for _, p := range [][2]string{{"name", c.Name}, {"material", c.Material}, {"barrel", c.Barrel}, {"half", c.Half}, {"pour", c.Pour}} {
			if p[1] != "" {
				out.WriteString(key + p[0] + ": " + Scalar(p[1]))
				key = "\n    "
			}
		}
		for i, d := range c.Mix {
			if i == 0 {
				out.WriteString("\n    mix:")
			}
			out.WriteString("\n      " + Scalar(d.Additive) + ": " + Scalar(d.PerCup))
		}
	}
	return out.String()
}
