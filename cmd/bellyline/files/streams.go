package files

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

var (
	apartKeys = []Key{{Name: "COLOUR", Means: "by how much this colour comes first", Unit: aLength, Example: "3 mm"}}
	sideKeys  = []Key{{Name: "COLOUR", Means: "cavities on its side; the rest lie on its line", Unit: aCount, Example: "1"}}
)

// readStart reads how unequal the plungers start: "3 mm", or {belly: 3 mm} where
// somebody has looked which colour comes first.
func (m *Mold) readStart(s *section) {
	const key = "plungers_apart"
	if !s.has(key) || !m.twoColours(s, key) {
		return
	}
	if _, plain := scalar(s.values[key]); plain {
		m.Apart.MM = take(s, key, someLength)
		m.checkStroke(s, key)
		return
	}
	sub := s.section(key)
	if sub == nil {
		return
	}
	sub.only(m.colourNames())
	for _, c := range m.Colours {
		if !sub.has(c.Name) {
			continue
		}
		if m.Apart.First != "" {
			sub.fail(c.Name, "only one colour can come first")
			return
		}
		m.Apart = laminate.Apart{MM: need(sub, c.Name, someLength), First: c.Name}
		m.checkStroke(sub, c.Name)
	}
	if m.Apart.First == "" && s.sound(key) {
		s.fail(key, "write how far apart the plungers start, like 3 mm, or which colour comes first, like {%s: 3 mm}", m.Colours[0].Name).Fix = Fix{Value: "3 mm"}
	}
}

// leastApartMM is closer than anybody sees plungers stand: common practice, no source.
const leastApartMM = 0.1

// checkStroke refuses a start that no barrel can have.
func (m *Mold) checkStroke(s *section, key string) {
	if !s.sound(key) {
		return
	}
	if m.Apart.MM < leastApartMM {
		s.fail(key, "nobody sees plungers start %.2g mm apart; take it out, or give what you measured", m.Apart.MM)
	}
	for i, c := range m.Colours {
		b := m.Injector.Barrels[i]
		if !s.sound(key) || m.Apart.First != "" && m.Apart.First != c.Name {
			continue
		}
		if b.BoreMM == 0 {
			s.fail(key, "what that shoots takes the bore of the %s barrel; add it to the shop file", b.Name)
			return
		}
		if stroke := b.TravelMM(b.CapacityML); m.Apart.MM > stroke {
			s.fail(key, "plungers cannot start %v apart: the whole stroke of the %s barrel is %v", units.Length(m.Apart.MM), b.Name, units.Length(stroke))
		}
	}
}

// readStreams reads where the plane between the two streams stands and, when it does
// not lie in the parting face, which cavities lie on which side of the runner.
func (m *Mold) readStreams(s *section) {
	given, sides := s.has("streams"), s.has("sides")
	if given && !m.twoColours(s, "streams") {
		return
	}
	if plane := take(s, "streams", streamsPlane); plane != across {
		if sides && s.sound("streams") {
			s.fail("sides", "which side of the runner a cavity lies on matters only with streams: across").Fix = Fix{Remove: true}
		}
		return
	}
	m.Across = &laminate.Across{}
	if sub := s.section("sides"); sub != nil {
		sub.only(m.colourNames())
		sum := 0
		for _, c := range m.Colours {
			n := need(sub, c.Name, count(0, 1000))
			m.Across.Beside = append(m.Across.Beside, n)
			sum += n
		}
		if m.Cavities > 0 && sum > m.Cavities && s.sound("sides", "cavities") {
			s.fail("sides", "%d cavities beside the runner are more than the mold's %d", sum, m.Cavities)
		}
	}
}

// The words for where the plane between the streams stands.
const (
	along  = "parting face"
	across = "across"
)

func streamsPlane(t string) (string, error) {
	switch w := strings.ToLower(strings.TrimSpace(t)); w {
	case along, across:
		return w, nil
	}
	return "", fmt.Errorf("%q is not one of: %s (a laminate), %s (a quarter turn off: no laminate)", t, along, across)
}

// twoColours tells whether two streams are shot at once; a key that takes them is
// refused otherwise.
func (m *Mold) twoColours(s *section, key string) bool {
	if s.doc.blind || !s.sound("colours", "injector", "line") {
		return false // it cannot be told
	}
	if len(m.Colours) == 2 && len(m.Injector.Barrels) == 2 && m.Streams() {
		return true
	}
	s.fail(key, "it takes two colours that are shot at once, in two streams; take it out").Fix = Fix{Remove: true}
	return false
}

func (m *Mold) colourNames() []string {
	var names []string
	for _, c := range m.Colours {
		names = append(names, c.Name)
	}
	return names
}
