package files

import (
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// ReadLine reads a file, or standard input for "-", that holds a colour line and
// nothing else. Every error is an *Error.
func ReadLine(path string) (laminate.Line, error) {
	s, err := openArgument(path)
	if err != nil {
		return laminate.Line{}, err
	}
	line := readLine(s)
	s.done()
	return line, s.doc.err
}

func readLine(s *section) laminate.Line {
	if s.has("height") == s.has("belly_share") {
		s.noneOf([]string{"height", "belly_share"}, "give either height (like 2.5 mm) or belly_share (like 40/60)")
	}
	if s.has("height") {
		return laminate.Line{ByHeight: true, HeightMM: need(s, "height", signedLength)}
	}
	share := need(s, "belly_share", units.ParseShare)
	if s.doc.err == nil && (share <= 0 || share >= 1) {
		s.fail("belly_share", "both colours need a share above nothing, like 40/60")
	}
	return laminate.Line{BellyShare: share}
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
