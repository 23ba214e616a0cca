package files

import (
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// readLine reads where the colours part.
func (m *Mold) readLine(s *section) {
	switch n := len(m.Colours); {
	case n > 2:
		m.readShares(s)
		return
	case n < 2:
		if s.has("line") && s.sound("colours") {
			s.fail("line", "one colour has no colour line; take it out or add a colour").Fix = Fix{Remove: true}
		}
		return
	case !s.has("line"):
		s.missing("line")
	}
	sub := s.section("line")
	if sub == nil {
		return
	}
	l := readLine(sub)
	m.Lines = []laminate.Line{l}
	if !sub.sound() || m.Model != nil || m.Halves != nil {
		return
	}
	if l.ByPlace {
		sub.fail("height", "a height needs a model of the bait; give belly_share: 40/60 instead")
	}
	if l.Kind() != laminate.KindLevel {
		sub.fail("kind", "a %s line needs a model of the bait; a weighed bait takes belly_share: 40/60 alone", l.Kind())
	}
}

// readShares reads the line of three colours and more, which lie one over the other.
func (m *Mold) readShares(s *section) {
	if !s.has("line") {
		s.missingLike("line", "{shares: 20/50/30}")
	}
	sub := s.section("line")
	if sub == nil {
		return
	}
	sub.takes(sharesKeys)
	shares := take(sub, "shares", units.ParseShares)
	if n := len(m.Colours); len(shares) != n && sub.sound("shares") {
		sub.fail("shares", "%d colours need a share each, like 20/50/30, not %d", n, len(shares))
	}
	m.Lines = laminate.LinesFor(laminate.Level{}, shares)
}
