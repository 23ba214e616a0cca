package shop

import (
	"context"
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
)

// takeHalves puts a mold's halves into a job: the cavity, how many there are, and the
// runner as a channel of the feed. found are the halves in the order of the mold
// file's; the first, the belly's, lies below z = 0.
func takeHalves(ctx context.Context, m *files.Mold, found []*hollow.Half, job *laminate.Job) error {
	mold, err := Mold(ctx, found...)
	if err != nil {
		return err
	}
	baits := mold.Baits()
	switch same, differ := mold.SameBait(); {
	case len(baits) == 0:
		return fmt.Errorf("%s: no cavity was found in the halves; bellyline hollows shows what was", m.File)
	case !same:
		return fmt.Errorf("%s: the mold makes different baits (%s), and a mold file is for one; save them with bellyline hollows --save and write a file for each", m.File, differ)
	case m.Cavities != 0 && m.Cavities != len(baits):
		return fmt.Errorf("%s: cavities: the halves show %d, not %d; take the line out, or see bellyline hollows", m.File, len(baits), m.Cavities)
	}
	body, err := mold.Body(baits[0])
	if err != nil {
		return fmt.Errorf("%s: %w", m.File, err)
	}
	name := fmt.Sprintf("cavity %d of %s", baits[0].Half, m.Halves.List[0].Path)
	if job.Cavity, err = cavity.OfMesh(ctx, name, body, r3.Vector{Z: 1}, m.Halves.Nose); err != nil {
		return err
	}
	job.Cavity.Warnings = append(job.Cavity.Warnings, mold.AllWarnings()...)
	job.Cavities = len(baits)
	if volume := mold.RunnerMM3(); volume > 0 {
		job.Feed = append(job.Feed, cavity.Channel{Name: "runner", VolumeML: volume / 1000, Source: "the mold's halves"})
	} else {
		job.Cavity.Warnings = append(job.Cavity.Warnings, "no runner was found in the halves: the feed is only what the mold file lists")
	}
	return nil
}
