package files

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// layerKeys are those of a line file that holds several lines: level, tilted and drawn.
var layerKeys = []Key{{Name: "lines", Means: "a list of lines, for layers from belly to back", Kinds: kindsOfLine()[:3], Example: "[{belly_share: 20/80}, {kind: tilted, tilt: 2 deg, belly_share: 60/40}]"}}

// sharesKeys are those of the line of three colours and more.
var sharesKeys = []Key{{Name: "shares", Means: "of every colour, from belly to back", Unit: "numbers that make 100", Must: true, Example: "20/50/30"}}

// ReadLine reads a file, or standard input for "-", that holds a colour line, or
// several for layers, and nothing else. Every error is an *Error, or Errors.
func ReadLine(path string) ([]laminate.Line, error) {
	r := &reading{}
	s := r.openArgument(path)
	if s == nil {
		return nil, r.err()
	}
	return readLines(s)
}

// readLines reads a line file that was opened.
func readLines(s *section) ([]laminate.Line, error) {
	var lines []laminate.Line
	switch {
	case s.has("lines"):
		s.takes(layerKeys)
		for _, one := range s.list("lines") {
			line := readLine(one)
			refuseAlone(one, line)
			lines = append(lines, line)
		}
	case s.has("shares"):
		lines = readLayers(s)
	default:
		lines = append(lines, readLine(s))
	}
	if err := s.doc.err(); err != nil {
		return nil, err
	}
	return lines, nil
}

// readLayers reads lines that are shaped alike, and lie one over the other where every
// colour gets its share.
func readLayers(s *section) []laminate.Line {
	kind := readKind(s)
	if !s.sound("kind") {
		return nil
	}
	one := laminate.Line{Boundary: kind.read(s)}
	for _, key := range []string{kind.share, kind.place, "hinge"} {
		if s.has(key) {
			s.fail(key, "with shares: the lines are moved until every colour has its own; take this out").Fix = Fix{Remove: true}
		}
	}
	shares := take(s, "shares", units.ParseShares)
	if len(shares) > 2 {
		refuseAlone(s, one)
	}
	if len(shares) > mostLayers {
		s.fail("shares", "%d layers are more than a bait has room for; at most %d", len(shares), mostLayers)
		return nil
	}
	return laminate.LinesFor(one.Boundary, shares)
}

// refuseAlone refuses a line that is no layer.
func refuseAlone(s *section, l laminate.Line) {
	if !l.Streams() {
		s.fail("kind", "layers are made of level, tilted and drawn lines; a %s stands alone", l.Kind())
	}
}

// mostLayers is past any bait.
const mostLayers = 20

// readKind reads what kind of line it is; level when nothing is said.
func readKind(s *section) lineKind {
	s.known = kindKeys
	kind := take(s, "kind", lineWord)
	i := slices.IndexFunc(lineKinds[:], func(k lineKind) bool { return k.kind == kind })
	if i < 0 { // an error stands already, and any will do
		return lineKinds[0]
	}
	s.takes(lineKinds[i].keys())
	return lineKinds[i]
}

func lineWord(t string) (laminate.Kind, error) {
	for _, k := range lineKinds {
		if strings.EqualFold(t, string(k.kind)) {
			return k.kind, nil
		}
	}
	return "", fmt.Errorf("%q is no kind of line; there are: %s", t, strings.Join(kindWords(), ", "))
}

// readLine reads one line: its kind, the keys of that kind, and its place or a share.
func readLine(s *section) laminate.Line {
	kind := readKind(s)
	if !s.sound("kind") {
		return laminate.Line{Boundary: laminate.Level{}}
	}
	l := laminate.Line{Boundary: kind.read(s)}
	tilted, _ := l.Boundary.(laminate.Tilted)
	switch {
	case s.has("shares"):
		l.Share = readTwoShares(s, kind)
		return l
	case tilted.Hinge != nil:
		if s.has(kind.place) {
			s.fail(kind.place, "a line on a hinge finds its own height; give the share, or take the hinge out").Fix = Fix{Remove: true}
		}
	case l.Kind() == laminate.KindDrawn && !s.has(kind.place) && !s.has(kind.share):
		l.ByPlace = true // where it was drawn
		return l
	case s.has(kind.place) == s.has(kind.share):
		given := 0
		if s.has(kind.place) {
			given = 2
		}
		s.ways([]string{kind.place, kind.share}, given, kind.share+": 40/60", "give either %s (like %s) or %s (like 40/60)", kind.place, kind.usual, kind.share)
		return l
	case s.has(kind.place):
		l.ByPlace, l.Boundary = true, l.Boundary.At(take(s, kind.place, kind.length))
		return l
	}
	l.Share = need(s, kind.share, units.ParseShare)
	if s.sound(kind.share) && (l.Share <= 0 || l.Share >= 1) {
		s.fail(kind.share, "both colours need a share above nothing, like 40/60").Fix = Fix{Value: "40/60"}
	}
	return l
}

// readTwoShares reads the shares of the two colours of one line.
func readTwoShares(s *section, kind lineKind) float64 {
	shares := take(s, "shares", units.ParseShares)
	switch {
	case s.has(kind.share) || s.has(kind.place):
		s.fail("shares", "give either shares or one of %s and %s", kind.share, kind.place).Fix = Fix{Remove: true}
	case len(shares) > 2:
		s.fail("shares", "%d shares are given for two colours", len(shares)).Fix = Fix{Value: "40/60"}
	case len(shares) == 2:
		return shares[0]
	}
	return 0.5 // an error stands already
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
		return 0, fmt.Errorf("%q is no angle", t)
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
