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
	own    []Key                         // keys that only this kind has
	read   func(*section) laminate.Boundary
	write  func(laminate.Boundary) []string // keys with their values, but for its place
}

// lineKinds are the kinds of line that a file may name; the first three make layers.
var lineKinds = [...]lineKind{
	{laminate.KindLevel, "belly_share", "height", "2.5 mm", signedLength, nil,
		func(*section) laminate.Boundary { return laminate.Level{} }, nothingElse},
	{laminate.KindTilted, "belly_share", "height", "2.5 mm", signedLength, tiltKeys, readTilted, writeTilted},
	{laminate.KindDrawn, "belly_share", "raise", "0 mm", signedLength, drawnKeys, readDrawn, writeDrawn},
	{laminate.KindCrosswise, "tail_share", "at", "20 mm", signedLength, nil,
		func(*section) laminate.Boundary { return laminate.Crosswise{} }, nothingElse},
	{laminate.KindStripe, "body_share", "floor", "4 mm", signedLength, stripeKeys, readStripe, writeStripe},
	{laminate.KindCore, "core_share", "depth", "3 mm", someLength, stepKeys,
		func(s *section) laminate.Boundary { return laminate.Core{StepMM: readStep(s)} },
		func(b laminate.Boundary) []string { return writeStep(b.(laminate.Core).StepMM) }},
	{laminate.KindSkin, "skin_share", "thickness", "2 mm", someLength, stepKeys,
		func(s *section) laminate.Boundary { return laminate.Skin{StepMM: readStep(s)} },
		func(b laminate.Boundary) []string { return writeStep(b.(laminate.Skin).StepMM) }},
}

var kindKeys = []Key{{Name: "kind", Means: "the kind of line", Default: string(laminate.KindLevel), Example: "level"}}

// keys are all keys of a kind.
func (k lineKind) keys() []Key {
	kind := kindKeys[0]
	kind.Example, kind.Unit = string(k.kind), strings.Join(kindWords(), ", ")
	return append([]Key{kind,
		{Name: k.share, Means: "share of the first colour: the line is moved until it is met", Unit: aShare, Example: "40/60 | 40 % | 0.4"},
		{Name: k.place, Means: "instead of a share, where it lies: lengths along run from tail to nose, heights are the model's", Unit: aHeight, Example: k.usual},
		{Name: "shares", Means: "of all colours, instead of share and place", Unit: "numbers that make 100", Example: "40/60"},
	}, k.own...)
}

func kindWords() []string {
	var words []string
	for _, k := range lineKinds {
		words = append(words, string(k.kind))
	}
	return words
}

// kindsOfLine lists the kinds with their keys, and the line of more colours.
func kindsOfLine() []Kind {
	var kinds []Kind
	for _, k := range lineKinds {
		kinds = append(kinds, Kind{"kind: " + string(k.kind), k.keys()})
	}
	return append(kinds, Kind{"of three colours and more", sharesKeys})
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

var tiltKeys = []Key{
	{Name: "tilt", Means: "up to the nose", Unit: anAngle, Default: "0 deg", Example: "5 deg"},
	{Name: "roll", Means: "up to the left", Unit: anAngle, Default: "0 deg", Example: "5 deg"},
	{Name: "hinge", Means: "a point that the line goes through: its tilt is found for the share", Keys: hingeKeys, Example: "{along: 0 mm, height: 2 mm}"},
}

var hingeKeys = []Key{
	{Name: "along", Means: "place along the bait", Unit: aHeight, Must: true, Example: "-40 mm"},
	{Name: "height", Means: "height in the model", Unit: aHeight, Must: true, Example: "2 mm"},
}

func readTilted(s *section) laminate.Boundary {
	if s.has("hinge") {
		return laminate.Tilted{Hinge: readHinge(s), RollDeg: take(s, "roll", degrees)}
	}
	if !s.has("tilt") && !s.has("roll") {
		s.noneOf([]string{"tilt", "roll", "hinge"}, "tilt: 5 deg", "a tilted line needs its tilt (like 5 deg, up to the nose), its roll (up to the left), or a hinge with a share")
	}
	return laminate.Tilted{TiltDeg: take(s, "tilt", degrees), RollDeg: take(s, "roll", degrees)}
}

func writeTilted(b laminate.Boundary) []string {
	t := b.(laminate.Tilted)
	return []string{"tilt: " + plainNumber(t.TiltDeg) + " deg", "roll: " + plainNumber(t.RollDeg) + " deg"}
}

func readHinge(s *section) *laminate.Hinge {
	sub := s.section("hinge")
	if sub == nil {
		return nil
	}
	return &laminate.Hinge{AlongMM: take(sub, "along", signedLength), HeightMM: take(sub, "height", signedLength)}
}

var drawnKeys = []Key{
	{Name: "points", Means: "a list of them, from tail to nose; past its ends the line runs on level", Keys: hingeKeys, Must: true, Example: "[{along: -40 mm, height: 0 mm}, {along: 30 mm, height: 4 mm}]"},
	{Name: "curve", Means: "how it runs between them", Unit: "straight, smooth", Default: "straight", Example: "straight | smooth"},
}

func readDrawn(s *section) laminate.Boundary {
	return laminate.Drawn{Points: readPoints(s), Smooth: take(s, "curve", choice("straight", "smooth")) == "smooth"}
}

// readPoints reads the points of a drawn line, listed from tail to nose.
func readPoints(s *section) []r2.Point {
	var points []r2.Point
	for _, one := range s.list("points") {
		p := r2.Point{X: take(one, "along", signedLength), Y: take(one, "height", signedLength)}
		if n := len(points); s.sound("points") && n > 0 && !(p.X > points[n-1].X) {
			one.fail("along", "points are listed from tail to nose: this one at %g mm must lie further along than the one before it, at %g mm", p.X, points[n-1].X)
		}
		points = append(points, p)
	}
	if s.sound("points") && len(points) < 2 {
		s.fail("points", "a drawn line needs two points or more, not %d", len(points)).write(s.entry("points").examples()...)
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

var stripeKeys = []Key{
	{Name: "width", Means: "of its floor", Unit: aLength, Must: true, Example: "4 mm"},
	{Name: "across", Means: "how far its middle lies to the left of the bait's", Unit: aHeight, Default: "0 mm", Example: "-0.5 mm"},
	{Name: "draft", Means: "lean of its flanks; common practice, no source", Unit: anAngle, Default: "5 deg", Example: "5 deg"},
}

func readStripe(s *section) laminate.Boundary {
	b := laminate.Stripe{WidthMM: take(s, "width", someLength), AcrossMM: take(s, "across", signedLength), DraftDeg: take(s, "draft", degrees)}
	if s.sound("draft") && !(b.DraftDeg >= 0.5 && b.DraftDeg <= 60) {
		s.fail("draft", "the flanks of a stripe lean by 0.5 to 60 deg, or its insert does not come out").write("5 deg")
	}
	return b
}

func writeStripe(b laminate.Boundary) []string {
	w := b.(laminate.Stripe)
	return []string{"width: " + millimetres(w.WidthMM), "across: " + millimetres(w.AcrossMM), "draft: " + plainNumber(w.DraftDeg) + " deg"}
}

var stepKeys = []Key{{Name: "step", Means: "how fine the lattice of depths is", Unit: aLength, Without: "it fits the bait", Example: "0.5 mm"}}

// readStep reads how fine the lattice of depths is; by itself it fits the bait.
func readStep(s *section) float64 { return take(s, "step", someLength) }

func writeStep(mm float64) []string {
	if mm == 0 {
		return nil
	}
	return []string{"step: " + millimetres(mm)}
}
