package files

import (
	"fmt"
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
	kind := lineKinds[0]
	for _, k := range lineKinds {
		if k.kind == l.Kind {
			kind = k
		}
	}
	var keys []string
	add := func(key, value string) { keys = append(keys, key+": "+value) }
	if kind.kind != laminate.Level {
		add("kind", kind.word)
	}
	switch kind.kind {
	case laminate.Tilted:
		add("tilt", plainNumber(l.TiltDeg)+" deg")
		add("roll", plainNumber(l.RollDeg)+" deg")
	case laminate.Drawn:
		add("points", pointsText(l))
		if l.Smooth {
			add("curve", "smooth")
		}
	case laminate.Stripe:
		add("width", millimetres(l.WidthMM))
		add("across", millimetres(l.AcrossMM))
		add("draft", plainNumber(l.DraftDeg)+" deg")
	case laminate.Core, laminate.Skin:
		if l.StepMM > 0 {
			add("step", millimetres(l.StepMM))
		}
	}
	if l.ByHeight {
		add(kind.place, millimetres(l.HeightMM))
	} else {
		add(kind.share, plainNumber(l.BellyShare))
	}
	return keys
}

func pointsText(l laminate.Line) string {
	var points []string
	for _, p := range l.Points {
		points = append(points, fmt.Sprintf("{along: %s, height: %s}", millimetres(p.X), millimetres(p.Y)))
	}
	return "[" + strings.Join(points, ", ") + "]"
}

func millimetres(mm float64) string { return plainNumber(mm) + " mm" }

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
