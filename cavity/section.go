package cavity

import "bellyline/mesh"

// Section is the cavity cut by a plane across the back direction.
type Section struct {
	HeightMM        float64
	BelowMM3        float64 // fill volumes of the two sides
	AboveMM3        float64
	OutsideBelowMM2 float64 // skin, without the cut itself
	OutsideAboveMM2 float64
	AreaMM2         float64 // where the two sides join
	OutlineMM       float64 // length of the cut seen on the skin
	Pieces          int
}

func (c *Cavity) plane(h float64) mesh.Plane { return mesh.Plane{Normal: c.Back, HeightMM: h} }

// Section cuts the cavity at a height along its back direction, in mm.
func (c *Cavity) Section(h float64) (Section, error) {
	cut, err := c.Mesh.Cut(c.plane(h))
	if err != nil {
		return Section{}, err
	}
	return Section{
		HeightMM: h, BelowMM3: cut.Below.VolumeMM3, AboveMM3: cut.Above.VolumeMM3,
		OutsideBelowMM2: cut.Below.OutsideMM2, OutsideAboveMM2: cut.Above.OutsideMM2,
		AreaMM2: cut.SectionAreaMM2, OutlineMM: cut.OutlineMM, Pieces: cut.Pieces,
	}, nil
}

// Heights returns the lowest and the highest point along the back direction.
func (c *Cavity) Heights() (low, high float64) { return c.levels.Range() }

// HeightFor returns the height below which the given share of the cavity lies.
func (c *Cavity) HeightFor(share float64) (float64, error) {
	return c.levels.HeightFor(share * c.levels.VolumeMM3())
}
