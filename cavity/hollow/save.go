package hollow

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// ErrNotJoined is wrapped when the two sides of a hollow make no closed body.
var ErrNotJoined = errors.New("the two sides do not join into a closed body")

// Body returns what fills a pair of hollows as one closed mesh in the half's frame:
// the parting plane at z = 0, the half's own side below it; of a mold of one half
// it has a flat lid. Errors wrap ErrNotJoined.
func (m *Mold) Body(p Pair) (*mesh.Mesh, error) {
	if m.Other == nil {
		return m.Half.Body(p.Half)
	}
	mine := m.Half.skinOf(p.Half - 1)
	theirs := m.Other.skinOf(p.Other - 1).turned(m.lay)
	body, ok := join(mine, theirs)
	if ok && body.Check().Oriented {
		return body, nil
	}
	return nil, fmt.Errorf("%w: %s %d has %d rims in one half and %d in the other", ErrNotJoined, p.Kind, p.Half, len(mine.rims), len(theirs.rims))
}

// Body returns what fills a hollow of the half alone, under a flat lid in the plane
// of its rim, in the half's frame. Errors wrap ErrNotJoined.
func (h *Half) Body(id int) (*mesh.Mesh, error) {
	body, err := h.skinOf(id - 1).closed()
	if err != nil {
		return nil, fmt.Errorf("%w: hollow %d: %v", ErrNotJoined, id, err)
	}
	return body, nil
}

// Save writes each cavity and each runner of the mold as one closed STL in mm into
// a folder, which is made when it is not there, and notes the files in the pairs.
// All are made before the first is written. Of a half alone it is that half's Save.
func (m *Mold) Save(ctx context.Context, folder string) error {
	if m.Other == nil {
		return m.Half.Save(ctx, folder)
	}
	var bodies []*mesh.Mesh
	for _, p := range m.Pairs {
		if p.Kind == Hole {
			bodies = append(bodies, nil)
			continue
		}
		body, err := m.Body(p)
		if err != nil {
			return err
		}
		bodies = append(bodies, body)
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for i, body := range bodies {
		if body == nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		p := &m.Pairs[i]
		p.File = filepath.Join(folder, fileName(p.Kind, p.Half))
		if err := stl.WriteFile(p.File, fmt.Sprintf("bellyline %s %d of %s, mm", p.Kind, p.Half, filepath.Base(m.Half.File)), body); err != nil {
			return err
		}
	}
	return nil
}

// Save writes each cavity and each runner of the half, closed by a flat lid, as Save
// of a Mold does.
func (h *Half) Save(ctx context.Context, folder string) error {
	bodies := map[int]*mesh.Mesh{}
	for i, o := range h.Hollows {
		if o.Kind == Hole {
			continue
		}
		body, err := h.Body(o.ID)
		if err != nil {
			return err
		}
		bodies[i] = body
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for i := range h.Hollows {
		o := &h.Hollows[i]
		if bodies[i] == nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		o.File = filepath.Join(folder, fileName(o.Kind, o.ID))
		if err := stl.WriteFile(o.File, fmt.Sprintf("bellyline %s %d of %s, mm", o.Kind, o.ID, filepath.Base(h.File)), bodies[i]); err != nil {
			return err
		}
	}
	return nil
}

func fileName(kind Kind, id int) string { return fmt.Sprintf("%s-%d.stl", kind, id) }
