package fill

import (
	"context"

	"bellyline/mesh"
	"bellyline/mesh/outline"
)

// CutFlat is Flat.Cut for a surface whose shells overlap: all numbers are those of what
// fills. Its cost is that of Cut and of two more fills.
func CutFlat(ctx context.Context, f *mesh.Flat, h float64) (*mesh.FoldCut, error) {
	loops, err := f.Loops(h)
	if err != nil {
		return nil, err
	}
	below, above, err := f.Solids(h)
	if err != nil {
		return nil, err
	}
	low, high, joined, err := Parts(ctx, f.Skin(), below, above)
	if err != nil {
		return nil, err
	}
	cut := &mesh.FoldCut{
		BelowMM3: low.VolumeMM3, AboveMM3: high.VolumeMM3, SectionAreaMM2: joined,
		OutsideBelowMM2: low.OutsideMM2, OutsideAboveMM2: high.OutsideMM2,
	}
	cut.OutlineMM, cut.Pieces = outline.Joined(loops)
	return cut, nil
}
