package shop

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// Model is one STL: a file on the disk, or its bytes.
type Model struct {
	Name string // for people
	path string
	data []byte
}

// ModelAt is the model in a file; "-" is standard input.
func ModelAt(path string) Model { return Model{Name: path, path: path} }

// label is how errors name the model.
func (m Model) label() string {
	if m.path != "" {
		return m.path
	}
	return m.Name
}

// read reads the model. An error names it as the command line does.
func (m Model) read(ctx context.Context, opts cavity.Options) (*stl.Model, error) {
	how := stl.ReadOptions{Unit: opts.Unit, Progress: opts.Progress}
	if m.path != "" {
		return stl.ReadFile(ctx, m.path, how)
	}
	read, err := stl.Read(ctx, bytes.NewReader(m.data), how)
	if format, ok := errors.AsType[*stl.FormatError](err); ok {
		format.File = m.Name
		return nil, format
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", m.Name, err)
	}
	return read, nil
}

// Measure measures the model. One that encloses no volume is no error: its measurement has
// a reason and no volume. drawn is the surface as the file has it, surface as it is
// measured.
func (m Model) Measure(ctx context.Context, opts cavity.Options) (found *cavity.Measurement, drawn, surface *mesh.Mesh, err error) {
	model, err := m.read(ctx, opts)
	if err != nil {
		return nil, nil, nil, err
	}
	found, surface, err = cavity.MeasureModel(ctx, m.label(), model, opts)
	return found, model.Mesh, surface, err
}

// Bait is the cavity that the model shows, which must enclose a volume.
func (m Model) Bait(ctx context.Context, opts cavity.Options, back, nose r3.Vector) (*cavity.Cavity, error) {
	found, _, surface, err := m.Measure(ctx, opts)
	if err != nil {
		return nil, err
	}
	return found.Cavity(surface, back, nose)
}

// Half finds the hollows of a mold half.
func (m Model) Half(ctx context.Context, read cavity.Options, opts hollow.Options) (*hollow.Half, error) {
	half, _, err := m.halfDrawn(ctx, read, opts)
	return half, err
}

// halfDrawn is Half with the surface as the file has it.
func (m Model) halfDrawn(ctx context.Context, read cavity.Options, opts hollow.Options) (*hollow.Half, *mesh.Mesh, error) {
	model, err := m.read(ctx, read)
	if err != nil {
		return nil, nil, err
	}
	half, err := hollow.OpenModel(ctx, m.label(), model, read, opts)
	return half, model.Mesh, err
}

// Mold lays a half and another, which may be missing, on each other.
func Mold(ctx context.Context, halves ...*hollow.Half) (*hollow.Mold, error) {
	if len(halves) == 1 {
		return hollow.OneHalf(halves[0]), nil
	}
	return hollow.Pairing(ctx, halves[0], halves[1])
}

// Draft says whether the model, a bait, can be pulled out along a direction.
func (m Model) Draft(ctx context.Context, read cavity.Options, pull r3.Vector) (*hollow.Draft, error) {
	return hollow.OpenDraft(ctx, m.path, read, pull)
}
