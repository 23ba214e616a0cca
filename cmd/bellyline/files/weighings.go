package files

import (
	"errors"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

var weighingKeys = []Key{
	{Name: "baits", Means: "ten good ones, cold, trimmed, without hooks, one by one: in air, or with what they have in water too", Unit: "a list of weights", Keys: weighedKeys, Example: "[12.1 g, 12.0 g, 12.2 g]"},
	{Name: "water", Means: "the fresh water that some hung in", Unit: aHeat, Without: "needed when one hung", Example: "68F | 20C"},
	{Name: "stroke", Means: "one stroke of ganged barrels pushed into a cup a colour, each weighed less its cup", Keys: strokeKeys, Example: "{belly: 31.2 g, back: 35.1 g}"},
}

var weighedKeys = []Key{
	{Name: "air", Means: "in air", Unit: aMass, Must: true, Example: "12.1 g"},
	{Name: "hung", Means: "the same bait on a thread in a glass of water on the scale's hook", Unit: aMass, Example: "0.8 g"},
	{Name: "sinker", Means: "in the water by itself, of a bait that floats", Unit: aMass, Default: "0 g", Example: "5 g"},
}

var strokeKeys = []Key{{Name: "COLOUR", Means: "of one stroke in its cup", Unit: aMass, Example: "31.2 g"}}

// readWeighings reads what was found with a scale: baits in air and in water, one
// stroke in a cup for each colour.
func (m *Mold) readWeighings(s *section) {
	sub := s.section("weighings")
	if sub == nil {
		return
	}
	if sub.has("baits") {
		for _, item := range sub.items("baits") {
			m.Weighings.Baits = append(m.Weighings.Baits, readWeighedBait(item))
		}
	}
	if m.anyHung() && !sub.has("water") {
		sub.missing("water")
	}
	m.Weighings.WaterC = float64(take(sub, "water", units.ParseTemperature))
	m.readStroke(sub)
	if !sub.has("baits") && !sub.has("stroke") {
		sub.noneOf([]string{"baits", "stroke"}, "baits: [12.1 g, 12.0 g, 12.2 g]", "give baits (like baits: [12.1 g, 12.0 g, 12.2 g]), or one stroke, each colour in its cup (like stroke: {belly: 31 g, back: 33 g})")
	}
	switch {
	case !sub.sound("baits"):
	case len(m.Weighings.Baits) == 0 && m.Model == nil && m.Halves == nil && m.Weighed == 0:
		sub.fail("", "there is no model, so at least one weighed bait is needed, like baits: [12.1 g, 12.0 g]").Fix = Fix{Add: "baits: [12.1 g, 12.0 g]"}
	case len(m.Weighings.Baits) == 0:
	case s.has("fed"):
		s.fail("fed", "the weighed baits say what is fed; take this out, or the baits").Fix = Fix{Remove: true}
	case s.has("weighed"):
		s.fail("weighed", "the mean of the weighed baits is taken; take this out, or the baits").Fix = Fix{Remove: true}
	}
}

func (m *Mold) anyHung() bool {
	for _, b := range m.Weighings.Baits {
		if b.Hung {
			return true
		}
	}
	return false
}

// readWeighedBait reads "12.1 g", or a mapping with what it has in water too.
func readWeighedBait(s *section) laminate.WeighedBait {
	if text, alone := s.alone(); alone {
		w, err := positive(units.ParseMass)(text)
		if err != nil {
			s.fail("", "%v", withoutExamples{err}).write("12.1 g")
		}
		return laminate.WeighedBait{AirG: w.G()}
	}
	b := laminate.WeighedBait{AirG: take(s, "air", positive(units.ParseMass)).G(), Hung: s.has("hung")}
	if s.has("sinker") && !b.Hung {
		s.fail("sinker", "a sinker tells nothing without what both have in the water; add it, like hung: 1 g").Fix = Fix{Remove: true}
	}
	if b.Hung {
		b.HungG = take(s, "hung", inWater).G()
		b.SinkerG = take(s, "sinker", units.ParseMass).G()
	}
	return b
}

// inWater reads what a bait has in water. One that floats pulls upwards, which no scale
// shows.
func inWater(t string) (units.Mass, error) {
	if strings.HasPrefix(strings.TrimSpace(t), "-") {
		return 0, errors.New("a bait that floats is hung with a sinker, like {air: 4.9 g, hung: 1 g, sinker: 1.1 g}, the sinker weighed in the water by itself")
	}
	return units.ParseMass(t)
}

// readStroke reads what one stroke pushed into a cup of each colour.
func (m *Mold) readStroke(s *section) {
	cups := s.section("stroke")
	if cups == nil || s.doc.blind || !s.up.sound("colours", "injector") {
		return
	}
	if len(m.Colours) < 2 {
		s.fail("stroke", "one colour has no ratio to find; take this out").Fix = Fix{Remove: true}
		return
	}
	cups.only(m.colourNames())
	for _, c := range m.Colours {
		m.Weighings.StrokeG = append(m.Weighings.StrokeG, need(cups, c.Name, positive(units.ParseMass)).G())
	}
	if m.Injector.Drive != laminate.Ganged {
		s.fail("stroke", "the plungers of %q are pushed one by one, each as far as you push it, so a weighed stroke fixes no ratio; take this out", m.Injector.Name).Fix = Fix{Remove: true}
	}
}
