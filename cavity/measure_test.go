package cavity

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// The box 80 x 12.5 x 10. Radii of gyration about its own axes: the root of
// (b^2+c^2)/12 for the edges b and c across the axis.
func TestMeasureABox(t *testing.T) {
	m, _, err := Measure(t.Context(), written(t, solids.Block(80, 12.5, 10)), Options{DensityGML: 1.02})
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "volume", *m.VolumeMM3, 10_000)
	equal(t, "fill volume", *m.FillVolumeMM3, 10_000)
	equal(t, "mass", *m.MassG, 10.2)
	equal(t, "area", m.AreaMM2, 2*(80*12.5+80*10+12.5*10))
	for i, want := range []float64{40, 6.25, 5} {
		equal(t, "centroid", m.CentroidMM[i], want)
		equal(t, "size", m.SizeMM[i], 2*want)
		equal(t, "lowest", m.MinMM[i], 0)
		equal(t, "highest", m.MaxMM[i], 2*want)
	}
	for i, want := range []float64{(12.5*12.5 + 100) / 12, (6400 + 100) / 12., (6400 + 12.5*12.5) / 12} {
		equal(t, "radius of gyration", m.PrincipalMM[i], math.Sqrt(want))
	}
	if !m.Closed || m.Triangles != 12 || m.Vertices != 8 || m.Shells != 1 || len(m.Problems)+len(m.Warnings) != 0 || m.Reason != "" {
		t.Errorf("a sound box is measured as %+v", m)
	}
}

func TestSizesThatPutTheUnitInDoubt(t *testing.T) {
	for _, c := range []struct {
		longest float64
		want    string
	}{
		{4, "the model is only 4 mm long: was it drawn in inches (--unit in) or cm? nothing was rescaled"},
		{9.5, "the model is only 9.5 mm long: was it drawn in inches (--unit in) or cm? nothing was rescaled"},
		{10, ""},
		{500, ""},
		{1016, "the model is 1016 mm long: is the unit right? nothing was rescaled"},
	} {
		m, _, err := Measure(t.Context(), written(t, solids.Block(2, c.longest, 1)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(m.Warnings, "; "); got != c.want {
			t.Errorf("%g mm: got %q, want %q", c.longest, got, c.want)
		}
		equal(t, "size is kept", m.SizeMM[1], c.longest)
	}
}

// Whatever is read, the measurement can be printed as JSON, and no volume,
// centroid or mass is given for what encloses none: a sheet once gave a centroid
// and NaN for its radii.
func TestNoNumberForWhatEnclosesNothing(t *testing.T) {
	box := solids.Block(80, 12.5, 10)
	sheet := []r3.Vector{{X: 20.3}, {X: 1.1, Y: 30.7}, {X: 1, Y: 2, Z: 3}}
	for what, corners := range map[string][]r3.Vector{
		"open": box[3:], "a facet turned": append(solids.Flip(box[:3]), box[3:]...), "sheet": append(sheet, solids.Flip(sheet)...),
	} {
		m, _, err := Measure(t.Context(), written(t, corners), Options{DensityGML: 1})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(m); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		if m.FillVolumeMM3 != nil || m.MassG != nil || m.Reason == "" {
			t.Errorf("%s: fill volume %v, mass %v, reason %q", what, m.FillVolumeMM3, m.MassG, m.Reason)
		}
		if m.CentroidMM != nil || m.PrincipalMM != nil {
			t.Errorf("%s: centroid %v, principal %v", what, m.CentroidMM, m.PrincipalMM)
		}
	}
}

// A box that faces inward as a whole holds what the box holds, and that it was turned is told.
func TestMeasureABoxThatFacesInward(t *testing.T) {
	m, _, err := Measure(t.Context(), written(t, solids.Flip(solids.Block(80, 12.5, 10))), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if m.Reason != "" || len(m.Mends) != 1 || len(m.Warnings) != 1 || m.Warnings[0] != "the whole model faced inward, so it was turned round" {
		t.Fatalf("%q, %+v, %q", m.Reason, m.Mends, m.Warnings)
	}
	equal(t, "volume", *m.VolumeMM3, 10_000)
	equal(t, "fill volume", *m.FillVolumeMM3, 10_000)
}
