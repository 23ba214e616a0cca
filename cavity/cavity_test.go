package cavity

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// A direction of any length must give the same heights as one of length 1: with
// the back as (0,0,2) the plane at height 4 was once put at z = 2.
func TestBackOfAnyLength(t *testing.T) {
	path := written(t, solids.Block(80, 12.5, 10))
	for _, length := range []float64{1, 2, 0.001, 1e5} {
		c, err := Open(t.Context(), path, Options{}, r3.Vector{Z: length}, r3.Vector{X: 1})
		if err != nil {
			t.Fatal(err)
		}
		low, high := c.Heights()
		h, err := c.HeightFor(t.Context(), 0.4)
		if err != nil {
			t.Fatal(err)
		}
		s, err := c.Section(t.Context(), h)
		if err != nil {
			t.Fatal(err)
		}
		equal(t, "lowest", low, 0)
		equal(t, "highest", high, 10)
		equal(t, "height for 40 percent", h, 4)
		equal(t, "volume below", s.BelowMM3, 80*12.5*4)
	}
}

// The box 80 x 12.5 x 10 cut at height 4: every figure is that of a box.
func TestSectionOfABox(t *testing.T) {
	c, err := Open(t.Context(), written(t, solids.Block(80, 12.5, 10)), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	s, err := c.Section(t.Context(), 4)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "fill", c.FillMM3, 10_000)
	equal(t, "height", s.HeightMM, 4)
	equal(t, "below", s.BelowMM3, 4000)
	equal(t, "above", s.AboveMM3, 6000)
	equal(t, "skin below", s.OutsideBelowMM2, 80*12.5+2*(80+12.5)*4)
	equal(t, "skin above", s.OutsideAboveMM2, 80*12.5+2*(80+12.5)*6)
	equal(t, "joined", s.AreaMM2, 80*12.5)
	equal(t, "line on the skin", s.OutlineMM, 2*(80+12.5))
	if s.Pieces != 1 {
		t.Errorf("%d pieces of section, want 1", s.Pieces)
	}
}

// A slanted back: the box 10 x 10 x 10 cut in half across its space diagonal
// shows a regular hexagon of edge 10/sqrt(2), 3*sqrt(3)/2 of the edge squared.
func TestSectionAcrossTheDiagonal(t *testing.T) {
	c, err := Open(t.Context(), written(t, solids.Block(10, 10, 10)), Options{}, r3.Vector{X: 1, Y: 1, Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	h, err := c.HeightFor(t.Context(), 0.5)
	if err != nil {
		t.Fatal(err)
	}
	s, err := c.Section(t.Context(), h)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "height", h, 5*math.Sqrt(3))
	equal(t, "below", s.BelowMM3, 500)
	equal(t, "hexagon", s.AreaMM2, 3*math.Sqrt(3)/2*50)
	equal(t, "outline", s.OutlineMM, 6*10/math.Sqrt2)
}

func TestUnitOfTheModel(t *testing.T) {
	path := written(t, solids.Block(4, 1, 0.5))
	inches, err := stl.ParseUnit("in")
	if err != nil {
		t.Fatal(err)
	}
	m, _, err := Measure(t.Context(), path, Options{Unit: inches})
	if err != nil {
		t.Fatal(err)
	}
	v, err := m.FilledMM3()
	if err != nil {
		t.Fatal(err)
	}
	// A cubic inch is 25.4^3 = 16387.064 mm3 exactly.
	equal(t, "two cubic inches", v, 2*16387.064)
}

func TestCavitiesThatHoldNothing(t *testing.T) {
	box := solids.Block(80, 12.5, 10)
	sheet := []r3.Vector{{X: 20.3}, {X: 1.1, Y: 30.7}, {X: 1, Y: 2, Z: 3}}
	for _, c := range []struct {
		what, want string
		corners    []r3.Vector
	}{
		// What has to be mended is the mesh package's to say, and tested there.
		{"open", "the surface needs mending: ", box[3:]},
		{"a box in a box, both inside out", "the surface needs mending: ", solids.Flip(append(solids.Cube(3, 2), box...))},
		{"a facet turned", "the surface needs mending: ", append(solids.Flip(box[:3]), box[3:]...)},
		{"a sheet", "the surface is closed but encloses nothing: its sides lie on each other; give the sheet a thickness", append(sheet, solids.Flip(sheet)...)},
	} {
		path := written(t, c.corners)
		m, _, err := Measure(t.Context(), path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, err = m.FilledMM3()
		refused(t, c.what, err, path, c.want)
		_, err = Open(t.Context(), path, Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
		refused(t, c.what, err, path, c.want)
	}
}

func refused(t *testing.T, what string, err error, path, want string) {
	t.Helper()
	if !errors.Is(err, ErrNoVolume) || !strings.HasPrefix(err.Error(), path+": no volume can be given: "+want) {
		t.Errorf("%s: got %v, want %s", what, err, want)
	}
}

func TestOpenSaysWhatIsWrong(t *testing.T) {
	path := written(t, solids.Block(80, 12.5, 10))
	for _, back := range []r3.Vector{{}, {X: math.NaN()}, {Z: math.Inf(1)}} {
		if _, err := Open(t.Context(), path, Options{}, back, r3.Vector{X: 1}); !errors.Is(err, mesh.ErrDirection) {
			t.Errorf("back %v: got %v, want %v", back, err, mesh.ErrDirection)
		}
	}
	if _, err := Open(t.Context(), filepath.Join(t.TempDir(), "none.stl"), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1}); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: got %v", err)
	}
}
