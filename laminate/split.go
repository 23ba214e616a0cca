package laminate

import (
	"cmp"
	"context"
	"fmt"
	"reflect"
	"slices"

	"bellyline/cavity"
)

// Split is a cavity parted into colours by a line or several.
type Split struct {
	File         string        `json:"model"`
	Line         SplitLine     `json:"line"`
	Colours      []SplitColour `json:"colours"`        // from belly to back, tail to head, or the line's own colour first
	SplitAreaMM2 float64       `json:"split_area_mm2"` // where colours join, all lines together
	LineLengthMM float64       `json:"line_length_mm"` // seen on the skin
	Pieces       int           `json:"pieces"`         // of section
	Warnings     []string      `json:"warnings"`

	lines []laid // from below to above
}

// SplitColour is the part of a cavity that one colour fills.
type SplitColour struct {
	Name       string   `json:"name"`
	VolumeMM3  float64  `json:"volume_mm3"`
	Share      float64  `json:"share"`
	OutsideMM2 float64  `json:"outside_mm2"`
	MassG      *float64 `json:"mass_g"` // null unless a density was given
	File       string   `json:"file"`   // empty unless saved
	// What the colour shares with its neighbours.
	JoinedMM2    float64 `json:"joined_mm2"`
	LineLengthMM float64 `json:"line_length_mm"` // seen on the skin
}

// SplitBy parts a cavity by one line, or into layers by several that do not cross.
// densityGML, when above 0, gives the masses. Every line costs one cut, a share one
// search more, a core a lattice of depths.
func SplitBy(ctx context.Context, c *cavity.Cavity, lines []Line, densityGML float64) (*Split, error) {
	if len(lines) == 0 {
		return nil, fmt.Errorf("%w: a split needs a line", ErrJob)
	}
	s := &Split{File: c.Name, Warnings: append([]string{}, c.Warnings...)}
	if err := s.by(ctx, c, lines); err != nil {
		return nil, err
	}
	for i := range s.Colours {
		col := &s.Colours[i]
		col.Share = col.VolumeMM3 / c.FillMM3
		if densityGML > 0 {
			mass := col.VolumeMM3 / 1000 * densityGML
			col.MassG = &mass
		}
	}
	return s, nil
}

// by parts by one line, or by several, one over the other.
func (s *Split) by(ctx context.Context, c *cavity.Cavity, lines []Line) error {
	var err error
	var sections []cavity.Section
	if s.lines, sections, err = layAll(ctx, c, lines); err != nil {
		return err
	}
	s.Line = describe(s.lines)
	low, high := lines[0].boundary().Colours()
	var under cavity.Section // of the line under the layer at hand
	for i, section := range sections {
		name := low
		if i > 0 {
			name = fmt.Sprintf("layer %d", i+1)
		}
		s.add(name, section.BelowMM3-under.BelowMM3, section.OutsideBelowMM2-under.OutsideBelowMM2, under, section)
		s.SplitAreaMM2 += section.AreaMM2
		s.LineLengthMM += section.OutlineMM
		s.Pieces += section.Pieces
		s.Warnings = append(s.Warnings, s.lines[i].warnings()...)
		under = section
	}
	s.add(high, under.AboveMM3, under.OutsideAboveMM2, under, cavity.Section{})
	return nil
}

// add adds a colour between two lines.
func (s *Split) add(name string, volume, outside float64, under, over cavity.Section) {
	s.Colours = append(s.Colours, SplitColour{Name: name, VolumeMM3: volume, OutsideMM2: outside,
		JoinedMM2: under.AreaMM2 + over.AreaMM2, LineLengthMM: under.OutlineMM + over.OutlineMM})
}

// layAll finds the places of lines and puts them in order; one given twice counts
// once.
func layAll(ctx context.Context, c *cavity.Cavity, lines []Line) ([]laid, []cavity.Section, error) {
	type cut struct {
		line    laid
		section cavity.Section
	}
	var cuts []cut
	for _, l := range lines {
		if len(lines) > 1 && !l.Streams() {
			return nil, nil, errNoLayer(l)
		}
		at, err := l.lay(ctx, c)
		if err != nil {
			return nil, nil, err
		}
		section, err := at.section(ctx)
		if err != nil {
			return nil, nil, err
		}
		cuts = append(cuts, cut{at, section})
	}
	slices.SortStableFunc(cuts, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.section.BelowMM3, b.section.BelowMM3), cmp.Compare(a.line.at().PlaceMM(), b.line.at().PlaceMM()))
	})
	cuts = slices.CompactFunc(cuts, func(a, b cut) bool { return reflect.DeepEqual(a.line.at(), b.line.at()) })
	var all []laid
	var sections []cavity.Section
	for i, here := range cuts {
		if i > 0 {
			if err := checkCrossing(c, cuts[i-1].line, here.line); err != nil {
				return nil, nil, err
			}
		}
		all, sections = append(all, here.line), append(sections, here.section)
	}
	return all, sections, nil
}

// checkCrossing refuses two lines that cross in the bait.
func checkCrossing(c *cavity.Cavity, lower, upper laid) error {
	crossed, err := crosses(c, lower, upper)
	if err == nil && crossed {
		a, b := lower.lies(), upper.lies()
		err = fmt.Errorf("%w: two lines cross in the bait: the %s one at %.2f mm and the %s one at %.2f mm", ErrJob, a.Kind, *a.HeightMM, b.Kind, *b.HeightMM)
	}
	return err
}
