package main

import (
	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/halves"
	"bellyline/laminate"
	"bellyline/mesh/mend"
)

// takeHalves reads a mold's halves into a job.
func takeHalves(c *call, m *files.Mold, mend mend.Options, job *laminate.Job) error {
	var found []*hollow.Half
	for _, one := range m.Halves.List {
		half, err := hollow.Open(c.ctx, one.Path, cavity.Options{Unit: m.Halves.Unit, Mend: mend, Progress: c.progress.update}, hollow.Options{})
		if err != nil {
			return err
		}
		found = append(found, half)
	}
	return halves.Take(c.ctx, m, found, job)
}
