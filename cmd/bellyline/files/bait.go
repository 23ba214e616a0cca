package files

import (
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/mesh/stl"
	"bellyline/mesh/vector"
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

// DirectionText writes a direction as the reader takes it, every digit of it.
func DirectionText(d r3.Vector) string {
	for i, name := range [3]string{"x", "y", "z"} {
		switch vector.XYZ(d)[i] {
		case 1:
			return "+" + name
		case -1:
			return "-" + name
		}
	}
	return fmt.Sprintf("%.17g,%.17g,%.17g", d.X, d.Y, d.Z)
}
