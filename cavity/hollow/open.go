package hollow

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/mend"
	"bellyline/mesh/stl"
	"bellyline/mesh/union"
)

// Open reads the model of a mold half and finds its hollows. Errors name the file
// and wrap those of stl.ReadFile and of Find.
func Open(ctx context.Context, path string, read cavity.Options, opts Options) (*Half, error) {
	model, err := stl.ReadFile(ctx, path, stl.ReadOptions{Unit: read.Unit, Progress: read.Progress})
	if err != nil {
		return nil, err
	}
	return OpenModel(ctx, path, model, read, opts)
}

// OpenModel is Open for a model that has been read, which it calls by the given name.
func OpenModel(ctx context.Context, path string, model *stl.Model, read cavity.Options, opts Options) (*Half, error) {
	surface, warnings, err := sound(ctx, model.Mesh, read.Mend)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	overlap, err := overlapOf(ctx, surface)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if overlap > 0 {
		warnings = append(warnings, fmt.Sprintf("solids of the model overlap by %.2f mm3: where one reaches into a hollow, that hollow is not measured right; join them in the drawing", overlap))
	}
	h, err := Find(ctx, surface, opts)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	h.File = path
	h.Warnings = append([]string{}, slices.Concat(sizeWarnings(h.BlockMM), warnings, h.Warnings)...)
	return h, nil
}

// sound returns a surface that is closed and faces outward where it can be had,
// and says what had to be done. A surface that stays open is returned as it is:
// its hollows may be whole all the same, which Find looks at.
func sound(ctx context.Context, m *mesh.Mesh, opts mend.Options) (*mesh.Mesh, []string, error) {
	var warnings []string
	report := m.Check()
	if !report.Oriented || report.Count(mesh.InsideOutShell) > 0 {
		mended, mends, err := mend.Surface(ctx, m, opts)
		switch {
		case errors.Is(err, mend.ErrNeeded), errors.Is(err, mend.ErrBeyond):
			if report.Count(mesh.MisorientedEdge) > 0 || report.Count(mesh.InsideOutShell) > 0 {
				return nil, nil, err
			}
			return m, []string{fmt.Sprintf("%v; the hollows are whole, so they are measured all the same", err)}, nil
		case err != nil:
			return nil, nil, err
		}
		for _, d := range mends {
			warnings = append(warnings, cavity.MendWarning(d))
		}
		m = mended
	}
	return m, warnings, nil
}

// overlapOf returns how much of a model its solids share, 0 where that cannot be
// told.
func overlapOf(ctx context.Context, m *mesh.Mesh) (float64, error) {
	report := m.Check()
	if report.Shells < 2 || !report.Oriented {
		return 0, nil
	}
	s, err := union.OfChecked(ctx, m, report)
	if err != nil {
		return 0, ctx.Err()
	}
	return s.OverlapMM3, nil
}

// The longest side of a mold half is some 50 to 600 mm. Outside of this range the
// unit is in doubt.
const (
	smallestBlockMM = 20
	largestBlockMM  = 1000
)

func sizeWarnings(block [3]float64) []string {
	switch longest := max(block[0], block[1]); {
	case longest < smallestBlockMM:
		return []string{fmt.Sprintf("the block is only %.3g mm long: was it drawn in inches (--unit in) or cm? nothing was rescaled", longest)}
	case longest > largestBlockMM:
		return []string{fmt.Sprintf("the block is %.4g mm long: is the unit right? nothing was rescaled", longest)}
	}
	return nil
}
