package files

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// ReadLine reads a file, or standard input for "-", that holds a colour line, or
// several for layers, and nothing else. Every error is an *Error.
func ReadLine(path string) ([]laminate.Line, error) {
	s, err := openArgument(path)
	if err != nil {
		return nil, err
	}
	return readLines(s)
}

// readLines reads a line file that was opened.
func readLines(s *section) ([]laminate.Line, error) {
	var lines []laminate.Line
	if s.has("lines") {
		for _, one := range s.list("lines") {
			line := readLine(one)
			switch line.Kind {
			case laminate.Crosswise, laminate.Stripe, laminate.Core, laminate.Skin:
				one.fail("kind", "layers are made of level, tilted and drawn lines; a %s stands alone", line.Kind)
			}
			lines = append(lines, line)
			one.done()
		}
	} else if s.has("shares") {
		lines = readLayers(s)
	} else {
		lines = append(lines, readLine(s))
	}
	s.done()
	return lines, s.doc.err
}

// readLayers reads lines that are shaped alike, and lie one over the other where every
// colour gets its share.
func readLayers(s *section) []laminate.Line {
	kind := readKind(s)
	one := laminate.Line{Kind: kind.kind}
	readShape(s, &one)
	for _, key := range []string{kind.share, kind.place, "hinge"} {
		if s.has(key) {
			s.fail(key, "with shares: the lines are moved until every colour has its own; take this out")
		}
	}
	switch one.Kind {
	case laminate.Crosswise, laminate.Stripe, laminate.Core, laminate.Skin:
		s.fail("kind", "layers are made of level, tilted and drawn lines; a %s stands alone", one.Kind)
	case laminate.Level:
		one.Kind = ""
	}
	shares := need(s, "shares", units.ParseShares)
	if len(shares) > mostLayers {
		s.fail("shares", "%d layers are more than a bait has room for; at most %d", len(shares), mostLayers)
		return nil
	}
	var lines []laminate.Line
	below := 0.0
	for i := range len(shares) - 1 {
		below += shares[i]
		one.BellyShare = below
		lines = append(lines, one)
	}
	return lines
}

// mostLayers is past any bait.
const mostLayers = 20

// lineKind is how a kind of line is written.
type lineKind struct {
	word  string
	kind  laminate.Kind
	share string // the key for the share of its first colour
	place string // the key for its place
	usual string // an example of the place
}

// lineKinds are the words of a line file for the kinds of line.
var lineKinds = [...]lineKind{
	{"level", laminate.Level, "belly_share", "height", "2.5 mm"},
	{"tilted", laminate.Tilted, "belly_share", "height", "2.5 mm"},
	{"drawn", laminate.Drawn, "belly_share", "raise", "0 mm"},
	{"crosswise", laminate.Crosswise, "tail_share", "at", "20 mm"},
	{"stripe", laminate.Stripe, "body_share", "floor", "4 mm"},
	{"core", laminate.Core, "core_share", "depth", "3 mm"},
	{"skin", laminate.Skin, "skin_share", "thickness", "2 mm"},
}

func lineWord(t string) (laminate.Kind, error) {
	var words []string
	for _, k := range lineKinds {
		if k.word == strings.ToLower(t) {
			return k.kind, nil
		}
		words = append(words, k.word)
	}
	return "", fmt.Errorf("%q is no kind of line; there are: %s", t, strings.Join(words, ", "))
}

// LineKind returns the kind that a line file calls by a word.
func LineKind(word string) (laminate.Kind, error) { return lineWord(word) }

// LineWord returns the word of a line file for a kind.
func LineWord(kind laminate.Kind) string {
	for _, k := range lineKinds {
		if k.kind == kind {
			return k.word
		}
	}
	return lineKinds[0].word // the plain line has no kind
}

// readKind reads what kind of line it is; level when nothing is said.
func readKind(s *section) lineKind {
	if s.has("kind") {
		name := need(s, "kind", lineWord)
		for _, k := range lineKinds {
			if k.kind == name {
				return k
			}
		}
	}
	return lineKinds[0]
}

// readLine reads one line: its kind, the keys of that kind, and its place or a share.
func readLine(s *section) laminate.Line {
	kind := readKind(s)
	l := laminate.Line{Kind: kind.kind}
	if l.Kind == laminate.Level {
		l.Kind = "" // the plain line, as flags give it
	}
	readShape(s, &l)
	switch {
	case s.has("shares"):
		l.BellyShare = readTwoShares(s, kind)
		return l
	case l.Hinge != nil:
		if s.has(kind.place) {
			s.fail(kind.place, "a line on a hinge finds its own height; give the share, or take the hinge out")
		}
	case l.Kind == laminate.Drawn && !s.has(kind.place) && !s.has(kind.share):
		l.ByHeight = true // where it was drawn
		return l
	case s.has(kind.place) == s.has(kind.share):
		s.noneOf([]string{kind.place, kind.share}, "give either %s (like %s) or %s (like 40/60)", kind.place, kind.usual, kind.share)
		return l
	case s.has(kind.place):
		l.ByHeight = true
		read := signedLength
		if l.Kind == laminate.Core || l.Kind == laminate.Skin {
			read = someLength
		}
		l.HeightMM = need(s, kind.place, read)
		return l
	}
	l.BellyShare = need(s, kind.share, units.ParseShare)
	if s.doc.err == nil && (l.BellyShare <= 0 || l.BellyShare >= 1) {
		s.fail(kind.share, "both colours need a share above nothing, like 40/60")
	}
	return l
}

// readTwoShares reads the shares of the two colours of one line.
func readTwoShares(s *section, kind lineKind) float64 {
	shares := need(s, "shares", units.ParseShares)
	switch {
	case s.has(kind.share) || s.has(kind.place):
		s.fail("shares", "give either shares or one of %s and %s", kind.share, kind.place)
	case len(shares) > 2:
		s.fail("shares", "%d shares are given for two colours", len(shares))
	case len(shares) == 2:
		return shares[0]
	}
	return 0.5 // an error stands already
}

// readShape reads what a kind of line has beside its place.
func readShape(s *section, l *laminate.Line) {
	switch l.Kind {
	case laminate.Tilted:
		if s.has("hinge") {
			l.Hinge = readHinge(s)
			l.RollDeg = may(s, "roll", 0, degrees)
			return
		}
		if !s.has("tilt") && !s.has("roll") {
			s.noneOf([]string{"tilt", "roll", "hinge"}, "a tilted line needs its tilt (like 5 deg, up to the nose), its roll (up to the left), or a hinge with a share")
		}
		l.TiltDeg, l.RollDeg = may(s, "tilt", 0, degrees), may(s, "roll", 0, degrees)
	case laminate.Drawn:
		l.Points = readPoints(s)
		l.Smooth = may(s, "curve", "straight", choice("straight", "smooth")) == "smooth"
	case laminate.Stripe:
		l.WidthMM = need(s, "width", someLength)
		l.AcrossMM = may(s, "across", 0, signedLength)
		l.DraftDeg = may(s, "draft", usualDraftDeg, degrees)
		if s.doc.err == nil && !(l.DraftDeg >= 0.5 && l.DraftDeg <= 60) {
			s.fail("draft", "the flanks of a stripe lean by 0.5 to 60 deg, or its insert does not come out")
		}
	case laminate.Core, laminate.Skin:
		l.StepMM = may(s, "step", 0, someLength)
	}
}

// usualDraftDeg is common practice, no source: an editable default.
const usualDraftDeg = 5.0

func readHinge(s *section) *laminate.Hinge {
	sub := s.section("hinge", true)
	if sub == nil {
		return nil
	}
	h := &laminate.Hinge{AlongMM: need(sub, "along", signedLength), HeightMM: need(sub, "height", signedLength)}
	sub.done()
	return h
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

// degrees reads an angle from -80 to 80, like "5 deg".
func degrees(t string) (float64, error) {
	text := strings.TrimSpace(strings.Replace(strings.ToLower(t), "\u2212", "-", 1))
	cut := false
	for _, unit := range []string{"degrees", "degree", "deg", "\u00b0"} {
		if text, cut = strings.CutSuffix(text, unit); cut {
			break
		}
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if !cut || err != nil || math.IsNaN(x) {
		return 0, fmt.Errorf("%q is no angle; write it like 5 deg", t)
	}
	if x < -80 || x > 80 {
		return 0, fmt.Errorf("%g deg lies outside -80 to 80", x)
	}
	return x, nil
}

// someLength reads a length above nothing, in mm.
func someLength(t string) (float64, error) {
	l, err := units.ParseLength(t)
	if err == nil && !(l > 0) {
		err = errors.New("a length above nothing is needed")
	}
	return l.MM(), err
}

// signedLength reads a height, which may lie below zero of the model.
func signedLength(t string) (float64, error) {
	t = strings.TrimSpace(t)
	for _, minus := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(t, minus); ok {
			l, err := units.ParseLength(rest)
			return -l.MM(), err
		}
	}
	l, err := units.ParseLength(strings.TrimPrefix(t, "+"))
	return l.MM(), err
}
