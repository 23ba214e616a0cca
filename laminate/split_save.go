package laminate

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

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
	bodies, err := s.Bodies(c)
	if err != nil {
		return err
	}
	for i, name := range names {
		if err := writeBody(filepath.Join(aside, name), s.Colours[i].Name, bodies[i]); err != nil {
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

// Bodies returns the closed body of every colour, in the order of the colours. The
// cavity is the one that was split. Where shells overlap a skin round a core has its
// outside from the lattice of depths, which a warning tells.
func (s *Split) Bodies(c *cavity.Cavity) ([]*mesh.Mesh, error) {
	var bodies []*mesh.Mesh
	rest := c.Mesh
	for _, line := range s.lines {
		below, above, err := line.bodies(rest)
		if err != nil {
			return nil, err
		}
		bodies, rest = append(bodies, below), above
	}
	return append(bodies, rest), nil
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
	if err := stl.Write(file, name, body); err != nil {
		return err
	}
	return file.Close()
}
