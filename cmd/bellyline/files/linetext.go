package files

import (
	"strconv"
	"strings"

	"bellyline/laminate"
)

// LineText writes a colour line as a mold file holds it. A hinge is not written: give
// the line the tilt that was found.
func LineText(l laminate.Line) string { return "{" + strings.Join(lineKeys(l), ", ") + "}" }

// LinesText writes a line file: one line, or several for layers.
func LinesText(lines []laminate.Line) string {
	if len(lines) == 1 {
		return strings.Join(lineKeys(lines[0]), "\n") + "\n"
	}
	var out strings.Builder
	out.WriteString("lines:                 # from belly to back\n")
	for _, l := range lines {
		out.WriteString("  - " + LineText(l) + "\n")
	}
	return out.String()
}

// lineKeys are the keys of a line and their values.
func lineKeys(l laminate.Line) []string {
	kind, b := kindOf(l), l.Boundary
	var keys []string
	if kind.kind != laminate.KindLevel {
		keys = append([]string{"kind: " + string(kind.kind)}, kind.write(b)...)
	}
	if l.ByPlace {
		return append(keys, kind.place+": "+millimetres(b.PlaceMM()))
	}
	return append(keys, kind.share+": "+plainNumber(l.Share))
}

func millimetres(mm float64) string { return plainNumber(mm) + " mm" }

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
