package mend

import (
	"fmt"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// patches splits the surface along edges that have not just two facets. It fails for one
// with one side only.
func (d *mender) patches(s *halfedge.Survey) (*halfedge.Patches, error) {
	p, strip := s.FindPatches(d.m.AreaOf)
	if strip >= 0 {
		return nil, oneSided(d.m, strip)
	}
	return p, nil
}

func oneSided(m *mesh.Mesh, f int32) error {
	at, _, _ := m.Corners(int(f))
	return fmt.Errorf("%w: the facets near %s are part of a strip with one side only, so there is no outside", ErrBeyond, mesh.PlaceText(at))
}
