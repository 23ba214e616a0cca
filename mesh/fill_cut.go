package mesh

import (
	"context"
)

// FillCut is Cut for a surface whose shells overlap: all numbers are those of
// what fills, which is where the winding number is 1 or more. Loops are left as
// Cut gives them, each shell's own; they may cross.
//
// The volumes and skins come from FillVolume of both closed halves: what lies in
// the section is the skin that both have and the whole has not. Cost: three
// times FillVolume, and for the outline the square of the number of crossing
// points of the section.
func (m *Mesh) FillCut(ctx context.Context, p Plane) (*Cut, error) {
	cut, err := m.Cut(p)
	if err != nil {
		return nil, err
	}
	below, above, err := m.CutSolids(p)
	if err != nil {
		return nil, err
	}
	var fills [3]Fill
	for i, half := range [3]*Mesh{m, below, above} {
		if fills[i], err = half.FillVolume(ctx); err != nil {
			return nil, err
		}
	}
	whole, low, high := fills[0], fills[1], fills[2]
	// A plane across which nothing overlaps leaves a rounding error here.
	cut.SectionAreaMM2 = max(0, low.AreaMM2+high.AreaMM2-whole.AreaMM2) / 2
	cut.Below.VolumeMM3, cut.Above.VolumeMM3 = low.VolumeMM3, high.VolumeMM3
	cut.Below.OutsideMM2 = low.AreaMM2 - cut.SectionAreaMM2
	cut.Above.OutsideMM2 = high.AreaMM2 - cut.SectionAreaMM2
	cut.OutlineMM, cut.Pieces = joinedOutline(p, cut.Loops)
	return cut, nil
}
