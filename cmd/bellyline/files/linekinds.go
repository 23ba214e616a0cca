package files

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"bellyline/laminate"
)

// lineKind is how a kind of line is written: what a line file reads and writes of it.
type lineKind struct {
	kind   laminate.Kind
	share  string                        // the key for the share of its first colour
	place  string                        // the key for its place
	usual  string                        // an example of the place
	length func(string) (float64, error) // reads the place
	read   func(*section) laminate.Boundary
	write  func(laminate.Boundary) []string // keys with their values, but for its place
}

// lineKinds are the kinds of line that a file may name.
var lineKinds = [...]lineKind{
	{laminate.KindLevel, "belly_share", "height", "2.5 mm", signedLength,
		func(*section) laminate.Boundary { return laminate.Level{} }, nothingElse},
	{laminate.KindTilted, "belly_share", "height", "2.5 mm", signedLength, readTilted, writeTilted},
	{laminate.KindDrawn, "belly_share", "raise", "0 mm", signedLength, readDrawn, writeDrawn},
	{laminate.KindCrosswise, "tail_share", "at", "20 mm", signedLength,
		func(*section) laminate.Boundary { return laminate.Crosswise{} }, nothingElse},
	{laminate.KindStripe, "body_share", "floor", "4 mm", signedLength, readStripe, writeStripe},
	{laminate.KindCore, "core_share", "depth", "3 mm", someLength,
		func(s *section) laminate.Boundary { return laminate.Core{StepMM: readStep(s)} },
		func(b laminate.Boundary) []string { return writeStep(b.(laminate.Core).StepMM) }},
	{laminate.KindSkin, "skin_share", "thickness", "2 mm", someLength,
		func(s *section) laminate.Boundary { return laminate.Skin{StepMM: readStep(s)} },
		func(b laminate.Boundary) []string { return writeStep(b.(laminate.Skin).StepMM) }},
}

// kindOf is how the kind of a line is written.
func kindOf(l laminate.Line) lineKind {
	for _, k := range lineKinds {
		if k.kind == l.Kind() {
			return k
		}
	}
	panic(fmt.Sprintf("no file names the kind %s", l.Kind()))
}

func nothingElse(laminate.Boundary) []string { return nil }

func readTilted(s *section) laminate.Boundary {
	if s.has("hinge") {
		return laminate.Tilted{Hinge: readHinge(s), RollDeg: may(s, "roll", 0, degrees)}
	}
	if !s.has("tilt") && !s.has("roll") {
		s.noneOf([]string{"tilt", "roll", "hinge"}, "a tilted line needs its tilt (like 5 deg, up to the nose), its roll (up to the left), or a hinge with a share")
	}
	return laminate.Tilted{TiltDeg: may(s, "tilt", 0, degrees), RollDeg: may(s, "roll", 0, degrees)}
}

func writeTilted(b laminate.Boundary) []string {
	t := b.(laminate.Tilted)
	return []string{"tilt: " + plainNumber(t.TiltDeg) + " deg", "roll: " + plainNumber(t.RollDeg) + " deg"}
}

func readHinge(s *section) *laminate.Hinge {
	sub := s.section("hinge", true)
	if sub == nil {
		return nil
	}
	h := &laminate.Hinge{AlongMM: need(sub, "along", signedLength), HeightMM: need(sub, "height", signedLength)}
	sub.done()
	return h
}

func readDrawn(s *section) laminate.Boundary {
	return laminate.Drawn{Points: readPoints(s), Smooth: may(s, "curve", "straight", choice("straight", "smooth")) == "smooth"}
}

// readPoints reads the points of a drawn line, listed from tail to nose.
func readPoints(s *section) []r2.Point {
	var points []r2.Point
	for _, one := range s.list("points") {
		if s.doc.err != nil {
			return nil
		}
		p := r2.Point{X: need(one, "along", signedLength), Y: need(one, "height", signedLength)}
		one.done()
		if n := len(points); s.doc.err == nil && n > 0 && !(p.X > points[n-1].X) {
			one.fail("along", "points are listed from tail to nose: this one at %g mm must lie further along than the one before it, at %g mm", p.X, points[n-1].X)
		}
		points = append(points, p)
	}
	if s.doc.err == nil && len(points) < 2 {
		s.fail("points", "a drawn line needs two points or more, not %d", len(points))
	}
	return points
}

func writeDrawn(b laminate.Boundary) []string {
	d := b.(laminate.Drawn)
	var points []string
	for _, p := range d.Points {
		points = append(points, fmt.Sprintf("{along: %s, height: %s}", millimetres(p.X), millimetres(p.Y)))
	}
	keys := []string{"points: [" + strings.Join(points, ", ") + "]"}
	if d.Smooth {
		keys = append(keys, "curve: smooth")
	}
	return keys
}

// usualDraftDeg is common practice, no source: an editable default.
const usualDraftDeg = 5.0

func readStripe(s *section) laminate.Boundary {
	b := laminate.Stripe{WidthMM: need(s, "width", someLength), AcrossMM: may(s, "across", 0, signedLength), DraftDeg: may(s, "draft", usualDraftDeg, degrees)}
	if s.doc.err == nil && !(b.DraftDeg >= 0.5 && b.DraftDeg <= 60) {
		s.fail("draft", "the flanks of a stripe lean by 0.5 to 60 deg, or its insert does not come out")
	}
	return b
}

func writeStripe(b laminate.Boundary) []string {
	w := b.(laminate.Stripe)
	return []string{"width: " + millimetres(w.WidthMM), "across: " + millimetres(w.AcrossMM), "draft: " + plainNumber(w.DraftDeg) + " deg"}
}

// readStep reads how fine the lattice of depths is; by itself it fits the bait.
func readStep(s *section) float64 { return may(s, "step", 0, someLength) }

func writeStep(mm float64) []string {
	if mm == 0 {
		return nil
	}
	return []string{"step: " + millimetres(mm)}
}
