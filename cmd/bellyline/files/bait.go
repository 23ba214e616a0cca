package files

import (
	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/mesh/stl"
)

// Model is the STL of a bait and how it lies in space.
type Model struct {
	Path       string
	Unit       stl.Unit
	Back, Nose r3.Vector
}

func readModel(s *section) *Model {
	return &Model{Path: s.doc.beside(take(s, "model", filePath)), Unit: take(s, "unit", stl.ParseUnit)}
}

// readBait reads what the bait is known by: a model, its mold's halves, or a weight.
func (m *Mold) readBait(s *section) {
	switch {
	case s.has("halves"):
		m.Halves = readHalves(s)
		for _, other := range []string{"model", "weighed"} {
			if s.has(other) {
				s.fail(other, "the bait's shape comes from the halves; take this out, or the halves").Fix = Fix{Remove: true}
			}
		}
	case s.has("model") && s.has("weighed"):
		s.fail("weighed", "give the model or a weighed bait, not both").Fix = Fix{Remove: true}
	case s.has("model"):
		m.Model = readModel(s)
		m.Model.Back, m.Model.Nose = take(s, "back", direction), take(s, "nose", direction)
		if _, err := cavity.NewFrame(m.Model.Back, m.Model.Nose); err != nil && s.sound("back", "nose") {
			s.fail("nose", "%v", err)
		}
	case s.has("weighed"):
		m.Weighed = take(s, "weighed", positive(units.ParseMass))
	case s.has("weighings"): // it must then have baits
	default:
		s.noneOf([]string{"model", "weighed", "halves"}, "weighed: 9.8 g", "needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)")
	}
}
