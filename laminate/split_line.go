package laminate

import "bellyline/mesh/vector"

// SplitLine is the line as it lies in the bait. Fields that its kind does not have
// are null or left out.
type SplitLine struct {
	Kind Kind `json:"kind"` // that of the line, or layers for several
	// HeightMM is along Direction: of a plane its height, of a tilted or drawn line its
	// height in the middle of the bait, of a crosswise line its place along the nose
	// direction, of a stripe its floor. Null for core and skin.
	HeightMM  *float64    `json:"height_mm"`
	HeightsMM []float64   `json:"heights_mm"` // of all lines
	Direction *[3]float64 `json:"direction"`
	Needs     string      `json:"needs"` // an insert or a second shot, or empty

	TiltDeg  *float64     `json:"tilt_deg,omitempty"`  // up to the nose
	RollDeg  *float64     `json:"roll_deg,omitempty"`  // up to the left
	MovedMM  *float64     `json:"moved_mm,omitempty"`  // of a drawn line, up from where it was drawn
	PointsMM [][2]float64 `json:"points_mm,omitempty"` // its corners where it lies: along the nose direction, height
	ChordMM  *float64     `json:"chord_mm,omitempty"`  // how far its straight pieces may lie off the smooth curve
	WidthMM  *float64     `json:"width_mm,omitempty"`  // of a stripe's floor
	DraftDeg *float64     `json:"draft_deg,omitempty"`
	AcrossMM *float64     `json:"across_mm,omitempty"`
	DepthMM  *float64     `json:"depth_mm,omitempty"` // of a core, below the skin
	StepMM   *float64     `json:"step_mm,omitempty"`  // of the lattice that depths were measured on
	ErrorMM3 *float64     `json:"error_mm3,omitempty"`
	Lines    []SplitLine  `json:"lines,omitempty"` // of layers, when not all are planes
}

// describe tells where lines lie, from below to above.
func describe(lines []laid) SplitLine {
	first := lines[0].lies()
	if len(lines) == 1 {
		return first
	}
	of := SplitLine{Kind: KindLayers, HeightMM: first.HeightMM, Direction: first.Direction}
	level := true
	for _, l := range lines {
		one := l.lies()
		of.HeightsMM = append(of.HeightsMM, *one.HeightMM)
		of.Lines = append(of.Lines, one)
		level = level && one.Kind == KindLevel
	}
	if level {
		of.Lines = nil
	}
	return of
}

func (s *sheet) lies() SplitLine {
	says, direction := s.says, vector.XYZ(s.up)
	says.Kind, says.HeightMM, says.HeightsMM, says.Direction = s.boundary.Kind(), &s.middle, []float64{s.middle}, &direction
	says.Needs = Line{Boundary: s.boundary}.Needs()
	return says
}
