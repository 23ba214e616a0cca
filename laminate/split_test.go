package laminate

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// The box 80 x 12.5 x 10 in three layers, cut at 2 and 7: figures of boxes.
func TestLayersOfABox(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	s, err := SplitBy(t.Context(), c, []Line{{Boundary: Level{HeightMM: 7}, ByPlace: true}, {Boundary: Level{HeightMM: 2}, ByPlace: true}, {Boundary: Level{HeightMM: 7}, ByPlace: true}}, 1.1)
	if err != nil {
		t.Fatal(err)
	}
	round := 2 * (80 + 12.5)
	for i, want := range []struct {
		name           string
		volume, inSkin float64
	}{{"belly", 2000, 1000 + 2*round}, {"layer 2", 5000, 5 * round}, {"back", 3000, 1000 + 3*round}} {
		col := s.Colours[i]
		same(t, "name", col.Name, want.name)
		equal(t, "volume", col.VolumeMM3, want.volume)
		equal(t, "share", col.Share, want.volume/10_000)
		equal(t, "skin", col.OutsideMM2, want.inSkin)
		equal(t, "mass", *col.MassG, want.volume/1000*1.1)
		same(t, "file", col.File, "")
	}
	same(t, "colours", len(s.Colours), 3)
	same(t, "kind", s.Line.Kind, KindLayers)
	same(t, "pieces", s.Pieces, 2)
	equal(t, "height", *s.Line.HeightMM, 2)
	equal(t, "joined, both lines", s.SplitAreaMM2, 2*80*12.5)
	equal(t, "lines on the skin", s.LineLengthMM, 2*round)
	equal(t, "direction", s.Line.Direction[2], 1)
}

func TestSplitByShareAndByHeight(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	for _, line := range []Line{{Share: 0.4}, {Boundary: Level{HeightMM: 4}, ByPlace: true}} {
		s, err := SplitBy(t.Context(), c, []Line{line}, 0)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "kind", s.Line.Kind, KindLevel)
		equal(t, "height", *s.Line.HeightMM, 4)
		equal(t, "belly", s.Colours[0].VolumeMM3, 4000)
		equal(t, "back", s.Colours[1].VolumeMM3, 6000)
		if s.Colours[0].MassG != nil {
			t.Error("a mass without a density")
		}
	}
}

// splitBodies are bodies turned and moved off the axes.
func splitBodies(t *testing.T) []*cavity.Cavity {
	egg := ellipsoid(30, 12, 8, 24)
	for i := range egg {
		egg[i] = egg[i].Add(r3.Vector{X: 511, Y: -73.3, Z: 20})
	}
	return []*cavity.Cavity{
		openBox(t, 80, 12.5, 10),
		openBody(t, "egg.stl", r3.Vector{X: 1, Y: -2, Z: 3}, egg),
		openBody(t, "stick.stl", r3.Vector{Y: 0.1, Z: -1}, lyingCylinder(6, 90, 32)),
	}
}

// randomLines draws one to four lines, by height or by share, anywhere inside.
func randomLines(t *rapid.T, c *cavity.Cavity) []Line {
	low, high := c.Heights()
	var lines []Line
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		l := Line{ByPlace: rapid.Bool().Draw(t, "by height")}
		l.Share = between(t, "share", 0.001, 0.999)
		l.Boundary = Level{HeightMM: low + between(t, "height", 0.001, 0.999)*(high-low)}
		lines = append(lines, l)
	}
	return lines
}

func TestPartsAddUpToTheWhole(t *testing.T) {
	from := splitBodies(t)
	skins := map[*cavity.Cavity]float64{}
	for _, c := range from {
		skins[c] = c.Mesh.Moments().AreaMM2
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(from).Draw(t, "body")
		s, err := SplitBy(t.Context(), c, randomLines(t, c), 1)
		if err != nil {
			t.Fatal(err)
		}
		volume, share, skin, mass := 0.0, 0.0, 0.0, 0.0
		for _, col := range s.Colours {
			if !(col.VolumeMM3 > 0 && col.OutsideMM2 > 0) {
				t.Errorf("a colour of %g mm3 and %g mm2 of skin", col.VolumeMM3, col.OutsideMM2)
			}
			volume, share, skin, mass = volume+col.VolumeMM3, share+col.Share, skin+col.OutsideMM2, mass+*col.MassG
		}
		within(t, "volumes", volume, c.FillMM3, 1e-12*c.FillMM3)
		within(t, "shares", share, 1, 1e-12)
		within(t, "skins", skin, skins[c], 1e-11*skins[c])
		within(t, "masses", mass, c.FillMM3/1000, 1e-12*c.FillMM3)
		same(t, "colours", len(s.Colours), len(s.Line.HeightsMM)+1)
	})
}

// checkSaved reads what was saved as anybody would: closed, the right way out,
// and of the colour's volume to what float32 coordinates can do.
func checkSaved(t rapid.TB, s *Split, read func(path string) (*mesh.Mesh, error)) {
	t.Helper()
	for _, col := range s.Colours {
		m, err := read(col.File)
		if err != nil {
			t.Fatal(err)
		}
		r := m.Check()
		if !r.Closed || !r.Oriented {
			t.Errorf("%s: closed %v, oriented %v: %+v", col.Name, r.Closed, r.Oriented, r.Problems)
		}
		got := m.Moments()
		// StepMM3 is for one axis; a corner moves along all three.
		within(t, col.Name+" as saved", got.VolumeMM3, col.VolumeMM3, 2*got.StepMM3)
	}
}

func readFrom(t *testing.T) func(path string) (*mesh.Mesh, error) {
	return func(path string) (*mesh.Mesh, error) {
		model, err := stl.ReadFile(t.Context(), path, stl.ReadOptions{})
		if err != nil {
			return nil, err
		}
		return model.Mesh, nil
	}
}

func TestSavedColoursAreClosed(t *testing.T) {
	from, read, folder := splitBodies(t), readFrom(t), t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(from).Draw(t, "body")
		s, err := SplitBy(t.Context(), c, randomLines(t, c), 0)
		if err != nil {
			t.Fatal(err)
		}
		for i := 1; i < len(s.Line.HeightsMM); i++ {
			// A layer thinner than a step of float32 is nothing that STL can hold.
			if s.Line.HeightsMM[i]-s.Line.HeightsMM[i-1] < 1e-3 {
				t.Skip("a layer of under a micrometre")
			}
		}
		if err := s.Save(t.Context(), c, folder); err != nil {
			t.Fatal(err)
		}
		checkSaved(t, s, read)
	})
}

func TestNamesOfSavedFiles(t *testing.T) {
	for name, base := range map[string]string{
		"bait.stl": "bait", "two words.STL": "two words", "a.b.c.stl": "a.b.c", "no extension": "no extension",
		"fisch_käfer 40%'\"&;$(x)*?.stl": "fisch_käfer 40%'\"&;$(x)*?", "-rf.stl": "-rf", ".stl": "model", "鱼.stl": "鱼",
	} {
		c := openBody(t, name, r3.Vector{Z: 1}, ellipsoid(30, 12, 8, 12))
		s, err := SplitBy(t.Context(), c, []Line{{Share: 0.2}, {Share: 0.7}}, 0)
		if err != nil {
			t.Fatal(err)
		}
		folder := filepath.Join(t.TempDir(), "not", "there yet")
		if err := s.Save(t.Context(), c, folder); err != nil {
			t.Fatal(err)
		}
		for i, part := range []string{"belly", "layer-2", "back"} {
			same(t, "file", s.Colours[i].File, filepath.Join(folder, base+"-"+part+".stl"))
		}
		checkSaved(t, s, readFrom(t))
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "files in the folder", len(entries), 3)
	}
	c := openBox(t, 80, 12.5, 10)
	c.Name = "-" // standard input
	s, err := SplitBy(t.Context(), c, []Line{{Share: 0.5}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := s.Save(t.Context(), c, folder); err != nil {
		t.Fatal(err)
	}
	same(t, "file", s.Colours[1].File, filepath.Join(folder, "model-back.stl"))
}

func TestSaveSaysWhereItCannotWrite(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	parted := func() *Split {
		s, err := SplitBy(t.Context(), c, []Line{{Share: 0.5}}, 0)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	// A file where the folder should be.
	file := filepath.Join(t.TempDir(), "taken")
	if err := os.WriteFile(file, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	s := parted()
	err := s.Save(t.Context(), c, filepath.Join(file, "colours"))
	if err == nil || !strings.Contains(err.Error(), file) {
		t.Errorf("a file as folder: got %v", err)
	}
	// A folder where a file should be: the colour before it is whole, nothing of
	// this one is left, and no file is named that is not there.
	folder := t.TempDir()
	if err := os.MkdirAll(filepath.Join(folder, "box-back.stl", "full"), 0o777); err != nil {
		t.Fatal(err)
	}
	s = parted()
	err = s.Save(t.Context(), c, folder)
	if err == nil || !strings.HasPrefix(err.Error(), "write "+filepath.Join(folder, "box-back.stl")+": ") {
		t.Errorf("a folder as file: got %v", err)
	}
	same(t, "named after failing", s.Colours[1].File, "")
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "left in the folder", len(entries), 2)
	// A folder that may not be written to; root may write everywhere.
	if os.Getuid() != 0 {
		locked := t.TempDir()
		if err := os.Chmod(locked, 0o555); err != nil {
			t.Fatal(err)
		}
		if err := parted().Save(t.Context(), c, locked); !errors.Is(err, os.ErrPermission) || !strings.Contains(err.Error(), locked) {
			t.Errorf("a locked folder: got %v", err)
		}
	}
}

func TestSplitsThatCannotBe(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	for _, bad := range []struct {
		want  string
		lines []Line
	}{
		{"cannot pour this: a split needs a line", nil},
		{"cannot pour this: the line at NaN mm misses the bait, which reaches from 0.000 to 10.000 mm", []Line{{Boundary: Level{HeightMM: math.NaN()}, ByPlace: true}}},
		{"cannot pour this: the line at +Inf mm misses the bait, which reaches from 0.000 to 10.000 mm", []Line{{Share: 0.5}, {Boundary: Level{HeightMM: math.Inf(1)}, ByPlace: true}}},
		{"cannot pour this: a share of the bait lies between 0 and 1, not 0", []Line{{Share: 0}}},
		{"cannot pour this: a share of the bait lies between 0 and 1, not 1", []Line{{Share: 1}}},
		{"cannot pour this: a share of the bait lies between 0 and 1, not -0.1", []Line{{Share: -0.1}}},
		{"cannot pour this: a share of the bait lies between 0 and 1, not NaN", []Line{{Share: 0.5}, {Share: math.NaN()}}},
	} {
		_, err := SplitBy(t.Context(), c, bad.lines, 0)
		if !errors.Is(err, ErrJob) || err.Error() != bad.want {
			t.Errorf("got %v, want %s", err, bad.want)
		}
	}
}
