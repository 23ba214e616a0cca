package files

import (
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/laminate"
	"bellyline/mesh/stl"
)

// Halves are the models of a mold's halves, which stand for the bait's model, the
// number of cavities and the runner.
type Halves struct {
	Unit stl.Unit
	Nose r3.Vector // from tail to nose, in the frame of the first half seen from above
	// List has one half, or two: that of the belly colour first.
	List []HalfModel
}

// HalfModel is one mold half by the name that colours call it.
type HalfModel struct{ Name, Path string }

var halfKeys = []Key{{Name: "HALF", Means: "model of the half of that name", Unit: aModel, Example: "lower-half.stl"}}

// readHalves reads the models of the mold's halves.
func readHalves(s *section) *Halves {
	h := &Halves{Unit: take(s, "unit", stl.ParseUnit), Nose: take(s, "nose", direction)}
	if _, err := cavity.NewFrame(r3.Vector{Z: 1}, h.Nose); err != nil && s.sound("nose") {
		s.fail("nose", "%v", err)
	}
	list := s.section("halves")
	if list == nil {
		return h
	}
	for _, name := range list.order {
		called, err := word(name)
		if err != nil {
			list.fail(name, "%v", err)
		}
		h.List = append(h.List, HalfModel{Name: called, Path: s.doc.beside(need(list, name, filePath))})
	}
	if n := len(h.List); s.sound("halves") && n != 1 && n != 2 {
		s.fail("halves", "a mold has one half that is cut, or two, not %d", n)
	}
	return h
}

// orderHalves puts the half of the belly colour first.
func (m *Mold) orderHalves(s *section) {
	if m.Halves == nil || !s.sound("halves", "colours") || len(m.Colours) < 2 {
		return
	}
	list := m.Halves.List
	if len(list) != 2 {
		s.fail("halves", "colours that lie one over the other lie in two halves; name the models of both")
		return
	}
	var names []string
	for _, h := range list {
		names = append(names, h.Name)
	}
	lowest, highest := m.Colours[0], m.Colours[len(m.Colours)-1]
	for _, c := range []laminate.Colour{lowest, highest} {
		if !slices.Contains(names, c.Half) {
			s.fail("halves", "colour %s lies in the half called %q, which is not here; %s", c.Name, c.Half, choices(c.Half, names))
			return
		}
	}
	if lowest.Half == highest.Half { // refused already, but for what is shot one after the other
		s.fail("colours", sameHalf, lowest.Half)
		return
	}
	if list[0].Name != lowest.Half {
		list[0], list[1] = list[1], list[0]
	}
}

const sameHalf = "the belly's and the back's colour both lie in the half called %q; a laminate has one in each"

// checkHalves refuses colours shot at once that face one half.
func (m *Mold) checkHalves(s *section) {
	if n := len(m.Colours); n > 1 && s.sound("colours", "line") && m.Streams() && m.Colours[0].Half == m.Colours[n-1].Half {
		s.fail("colours", sameHalf, m.Colours[0].Half)
	}
}
