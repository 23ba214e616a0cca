package laminate

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bellyline/cavity"
	"bellyline/mesh"
)

// Split is a cavity parted into colours by planes across its back direction.
type Split struct {
	File         string        `json:"model"`
	Line         SplitLine     `json:"line"`
	Colours      []SplitColour `json:"colours"`        // from belly to back
	SplitAreaMM2 float64       `json:"split_area_mm2"` // where colours join, all lines together
	LineLengthMM float64       `json:"line_length_mm"` // seen on the skin
	Pieces       int           `json:"pieces"`         // of section
	Warnings     []string      `json:"warnings"`
}

// SplitLine is where the planes lie.
type SplitLine struct {
	Kind      string     `json:"kind"` // plane, or layers for several
	HeightMM  float64    `json:"height_mm"`
	HeightsMM []float64  `json:"heights_mm"`
	Direction [3]float64 `json:"direction"`
}

// SplitColour is the part of a cavity that one colour fills.
type SplitColour struct {
	Name       string   `json:"name"`
	VolumeMM3  float64  `json:"volume_mm3"`
	Share      float64  `json:"share"`
	OutsideMM2 float64  `json:"outside_mm2"`
	MassG      *float64 `json:"mass_g"` // null unless a density was given
	File       string   `json:"file"`   // empty unless saved
}

// SplitBy parts a cavity by one line or several. densityGML, when above 0, gives
// the masses. Every line costs one cut, a share about ten more.
func SplitBy(ctx context.Context, c *cavity.Cavity, lines []Line, densityGML float64) (*Split, error) {
	heights, err := heightsOf(ctx, c, lines)
	if err != nil {
		return nil, err
	}
	s := &Split{File: c.Name, Warnings: append([]string{}, c.Warnings...)}
	s.Line = SplitLine{Kind: "plane", HeightMM: heights[0], HeightsMM: heights, Direction: [3]float64{c.Back.X, c.Back.Y, c.Back.Z}}
	if len(heights) > 1 {
		s.Line.Kind = "layers"
	}
	var below cavity.Section // of the line under the layer at hand
	for i, h := range heights {
		section, err := c.Section(ctx, h)
		if err != nil {
			return nil, err
		}
		s.add(layerName(i, len(heights)), section.BelowMM3-below.BelowMM3, section.OutsideBelowMM2-below.OutsideBelowMM2)
		s.SplitAreaMM2 += section.AreaMM2
		s.LineLengthMM += section.OutlineMM
		s.Pieces += section.Pieces
		below = section
	}
	s.add(layerName(len(heights), len(heights)), below.AboveMM3, below.OutsideAboveMM2)
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

func (s *Split) add(name string, volume, outside float64) {
	s.Colours = append(s.Colours, SplitColour{Name: name, VolumeMM3: volume, OutsideMM2: outside})
}

func layerName(i, lines int) string {
	switch {
	case i == 0:
		return "belly"
	case i == lines:
		return "back"
	default:
		return fmt.Sprintf("layer %d", i+1)
	}
}

func heightsOf(ctx context.Context, c *cavity.Cavity, lines []Line) ([]float64, error) {
	if len(lines) == 0 {
		return nil, fmt.Errorf("%w: a split needs a line", ErrJob)
	}
	low, high := c.Heights()
	var heights []float64
	for _, l := range lines {
		h := l.HeightMM
		if !l.ByHeight {
			if !(l.BellyShare > 0 && l.BellyShare < 1) {
				return nil, fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, l.BellyShare)
			}
			var err error
			if h, err = c.HeightFor(ctx, l.BellyShare); err != nil {
				return nil, err
			}
		}
		if !(h > low && h < high) {
			return nil, fmt.Errorf("%w: the line at %.3f mm misses the bait, which reaches from %.3f to %.3f mm", ErrJob, h, low, high)
		}
		heights = append(heights, h)
	}
	slices.Sort(heights)
	return slices.Compact(heights), nil
}

// Save writes the body of each colour as a closed STL into a folder and notes
// its name. All are written aside before the first takes its place, so that a
// body that cannot be written leaves the files of an earlier split as they were.
func (s *Split) Save(ctx context.Context, c *cavity.Cavity, folder string) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	aside, err := os.MkdirTemp(folder, ".saving-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(aside)
	// An interrupted program does not wait for the deferred call.
	defer context.AfterFunc(ctx, func() { os.RemoveAll(aside) })()
	names := s.fileNames(c.Name)
	rest := c.Mesh
	for i, name := range names {
		body := rest
		if i < len(s.Line.HeightsMM) {
			if body, rest, err = rest.CutSolids(mesh.Plane{Normal: c.Back, HeightMM: s.Line.HeightsMM[i]}); err != nil {
				return err
			}
		}
		if err := writeBody(filepath.Join(aside, name), s.Colours[i].Name, body); err != nil {
			return fmt.Errorf("write %s: %w", filepath.Join(folder, name), err)
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	for i, name := range names {
		file := filepath.Join(folder, name)
		if err := os.Rename(filepath.Join(aside, name), file); err != nil {
			return fmt.Errorf("write %s: %w", file, errors.Unwrap(err)) // the cause without both paths
		}
		s.Colours[i].File = file
	}
	return nil
}

// fileNames are the names of the colours' files, after the model's.
func (s *Split) fileNames(model string) []string {
	base := strings.TrimSuffix(filepath.Base(model), filepath.Ext(model))
	if model == "-" || base == "" {
		base = "model"
	}
	var names []string
	for _, c := range s.Colours {
		names = append(names, base+"-"+strings.ReplaceAll(c.Name, " ", "-")+".stl")
	}
	return names
}

func writeBody(path, name string, body *mesh.Mesh) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close() // twice is no harm
	if err := mesh.Write(file, name, body); err != nil {
		return err
	}
	return file.Close()
}
