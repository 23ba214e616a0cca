package stream

// SectionView is a section as it is drawn, in mm across and along the back direction.
type SectionView struct {
	XMM     float64        `json:"x_mm"`
	LowMM   float64        `json:"low_mm"`
	HighMM  float64        `json:"high_mm"`
	LeftMM  float64        `json:"left_mm"`
	RightMM float64        `json:"right_mm"`
	Loops   [][][2]float64 `json:"loops"` // closed; plastic is where they wind round once or more
	Parts   []SectionPart  `json:"parts"`
}

// SectionPart is a piece of a section: its loops by number, and its line.
type SectionPart struct {
	Loops   []int   `json:"loops"`
	Shared  bool    `json:"shared"`  // both colours are there
	LineMM  float64 `json:"line_mm"` // else at its top or bottom
	LeftMM  float64 `json:"left_mm"` // where the line meets the walls
	RightMM float64 `json:"right_mm"`
}

func (n *network) views() []SectionView {
	var list []SectionView
	for _, part := range [3]float64{0.25, 0.55, 0.85} { // of the way from the gate on
		if s := &n.stations[int(part*float64(len(n.stations)))]; len(s.pieces) > 0 {
			list = append(list, s.view())
		}
	}
	return list
}

func (s *station) view() SectionView {
	v := SectionView{XMM: s.x}
	for i, p := range s.pieces {
		box := p.solver.section.Bounds()
		if i == 0 {
			v.LowMM, v.HighMM, v.LeftMM, v.RightMM = box.Y.Lo, box.Y.Hi, box.X.Lo, box.X.Hi
		}
		v.LowMM, v.HighMM = min(v.LowMM, box.Y.Lo), max(v.HighMM, box.Y.Hi)
		v.LeftMM, v.RightMM = min(v.LeftMM, box.X.Lo), max(v.RightMM, box.X.Hi)
		part := SectionPart{LineMM: box.Y.Hi, LeftMM: box.X.Lo, RightMM: box.X.Hi}
		switch {
		case p.parting != nil:
			part.Shared, part.LineMM = true, p.parting.HeightMM
			if spans := scanRows(p.solver.edges, lattice{origin: part.LineMM - 0.5, step: 1, count: 1})[0]; len(spans) > 0 {
				part.LeftMM, part.RightMM = spans[0].lo, spans[len(spans)-1].hi
			}
		case p.back > 0.5:
			part.LineMM = box.Y.Lo
		}
		for _, loop := range p.solver.section.Loops {
			part.Loops = append(part.Loops, len(v.Loops))
			var to [][2]float64
			for _, q := range loop {
				to = append(to, [2]float64{q.X, q.Y})
			}
			v.Loops = append(v.Loops, to)
		}
		v.Parts = append(v.Parts, part)
	}
	return v
}
