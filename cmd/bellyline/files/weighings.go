package files

import (
	"errors"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// readWeighings reads what was found with a scale: baits in air and in water, one
// stroke in a cup for each colour.
func (m *Mold) readWeighings(s *section) {
	sub := s.section("weighings", false)
	if sub == nil {
		return
	}
	if sub.holds("baits") {
		for _, item := range sub.items("baits") {
			m.Weighings.Baits = append(m.Weighings.Baits, readWeighedBait(item))
		}
	}
	m.Weighings.WaterC = float64(read(sub, "water", 0, m.anyHung(), units.ParseTemperature))
	m.readStroke(sub)
	if len(m.Weighings.Baits) == 0 && m.Weighings.StrokeG == nil {
		sub.noneOf([]string{"baits", "stroke"}, "give baits (like baits: [12.1 g, 12.0 g, 12.2 g]), or one stroke, each colour in its cup (like stroke: {belly: 31 g, back: 33 g})")
	}
	sub.done()
	switch {
	case len(m.Weighings.Baits) == 0 && m.Model == nil && m.Halves == nil && m.Weighed == 0:
		sub.fail("", "there is no model, so at least one weighed bait is needed, like baits: [12.1 g, 12.0 g]")
	case len(m.Weighings.Baits) == 0 || s.doc.err != nil:
	case s.has("fed"):
		s.fail("fed", "the weighed baits say what is fed; take this out, or the baits")
	case s.has("weighed"):
		s.fail("weighed", "the mean of the weighed baits is taken; take this out, or the baits")
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
			s.fail("", "%v", err)
		}
		return laminate.WeighedBait{AirG: w.G()}
	}
	b := laminate.WeighedBait{AirG: need(s, "air", positive(units.ParseMass)).G(), Hung: s.has("hung")}
	if s.has("sinker") && !b.Hung {
		s.fail("sinker", "a sinker tells nothing without what both have in the water; add it, like hung: 1 g")
	}
	if b.Hung {
		b.HungG = need(s, "hung", inWater).G()
		b.SinkerG = may(s, "sinker", 0, units.ParseMass).G()
	}
	s.done()
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
	cups := s.section("stroke", false)
	if cups == nil {
		return
	}
	if len(m.Colours) < 2 {
		s.fail("stroke", "one colour has no ratio to find; take this out")
		return
	}
	for _, c := range m.Colours {
		m.Weighings.StrokeG = append(m.Weighings.StrokeG, need(cups, c.Name, positive(units.ParseMass)).G())
	}
	cups.done()
	if m.Injector.Drive != laminate.Ganged {
		s.fail("stroke", "the plungers of %q are pushed one by one, each as far as you push it, so a weighed stroke fixes no ratio; take this out", m.Injector.Name)
	}
}
