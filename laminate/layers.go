package laminate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bellyline/cavity/units"
)

// LinesFor returns the lines between colours that are to get the given shares, from
// below: all of one shape, one over the other.
func LinesFor(shape Boundary, shares []float64) []Line {
	var lines []Line
	below := 0.0
	for _, s := range shares[:max(0, len(shares)-1)] {
		below += s
		lines = append(lines, Line{Boundary: shape, Share: below})
	}
	return lines
}

// checkLines says whether the lines between the colours are ones that can be.
func (j Job) checkLines() error {
	if len(j.Lines) != len(j.Colours)-1 {
		return fmt.Errorf("%w: %d colours have %d lines between them, not %d", ErrJob, len(j.Colours), len(j.Colours)-1, len(j.Lines))
	}
	for _, l := range j.Lines {
		if err := l.check(j.Cavity != nil); err != nil {
			return err
		}
	}
	if l := j.inserted(); l != nil && len(j.Lines) > 1 {
		return errNoLayer(*l)
	}
	return nil
}

// inserted returns a line that streams shot at once cannot lay; nil if there is none.
func (j Job) inserted() *Line {
	if i := slices.IndexFunc(j.Lines, func(l Line) bool { return !l.Streams() }); i >= 0 {
		return &j.Lines[i]
	}
	return nil
}

func errNoLayer(l Line) error {
	return fmt.Errorf("%w: layers are made by level, tilted and drawn lines, not by %s", ErrJob, l.Kind())
}

// movedWarnings tells that ganged barrels put the lines elsewhere, and the ways out.
func (r recipe) movedWarnings(l *LineResult) []string {
	switch {
	case len(l.Layers) > 0:
		return r.layerWarnings(l)
	case r.fixed:
		return l.warnings()
	}
	return nil
}

// layerWarnings tells that ganged barrels put the lines elsewhere, and the ways out.
func (r recipe) layerWarnings(l *LineResult) []string {
	var w []string
	if r.Streams && r.Cavity != nil {
		w = append(w, fmt.Sprintf("where %d streams put their lines along the bait is not worked out: a trial shot decides", len(r.Colours)))
	}
	moved := false
	for i := range r.shares {
		moved = moved || math.Abs(r.shares[i]-r.asked[i]) > sameShare
	}
	if !r.fixed || !moved {
		return w
	}
	var bores []string
	for _, b := range l.Agree.Bores[1:] {
		bores = append(bores, fmt.Sprintf("%s for %s", units.Length(b.BoreMM), b.Colour))
	}
	return append(w, fmt.Sprintf("the ganged barrels give %s from %s to %s, not %s as drawn; three ways out: draw the lines where they put them, at %s; or take bores of %s beside the %.1f mm of %s; or %s",
		units.SharesText(r.shares), r.Colours[0].Name, r.Colours[len(r.Colours)-1].Name, units.SharesText(r.asked), units.SharesText(r.shares),
		strings.Join(bores, " and "), l.Agree.Bores[0].IsMM, l.Agree.Bores[0].Colour, l.Agree.pushByHand()))
}
