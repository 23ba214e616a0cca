package layout

import (
	"fmt"

	"github.com/golang/geo/r2"
)

// Result is a mold as it could be cut.
type Result struct {
	File         string     `json:"file"`
	Cavities     int        `json:"cavities"`
	ShotML       float64    `json:"shot_ml"`
	BarrelUse    float64    `json:"barrel_use"`
	Limit        string     `json:"limit"`    // why there are no more cavities; empty when the number was asked for
	BlockMM      [3]float64 `json:"block_mm"` // along the runner, across, both halves
	BlockKg      float64    `json:"block_kg"`
	MetalCost    float64    `json:"metal_cost"`
	Runner       Runner     `json:"runner"`
	GateMM       float64    `json:"gate_mm"` // of the last station; the others in the runner
	Parting      Parting    `json:"parting"`
	Partings     []Parting  `json:"partings"` // candidates, the one taken first
	ThinnestMM   float64    `json:"thinnest_mm"`
	Thickness    *Thickness `json:"thickness"`
	OpenAfterS   *float64   `json:"open_after_s"`
	Scale        float64    `json:"scale"` // of the model as it was read, for length and shrinkage
	Shrink       float64    `json:"shrink"`
	ShrinkVolume float64    `json:"shrink_volume"`
	BaitML       float64    `json:"cavity_ml"`
	LengthMM     float64    `json:"cavity_length_mm"`
	ColdMM       float64    `json:"bait_length_mm"` // cold
	OpeningN     float64    `json:"opening_n"`
	Layout       *Plan      `json:"layout"`
	Setups       []Setup    `json:"setups"`
	Practice     Practice   `json:"practice"`
	Files        []string   `json:"files"`
	Warnings     []string   `json:"warnings"`

	Outlines [][][]r2.Point `json:"-"` // of every cavity in the parting face
}

// NewResult puts a chosen setup together with what led to it.
func NewResult(b *Bait, best Setup, setups []Setup, partings []Parting, t *Thickness, a Ask) *Result {
	plan := best.plan
	r := &Result{
		Cavities: best.Cavities, ShotML: best.ShotML, Limit: best.Limit, BarrelUse: best.BarrelUse, BlockMM: best.BlockMM, BlockKg: best.BlockKg,
		MetalCost: best.MetalCost, Runner: plan.Runner, GateMM: plan.Runner.GatesMM[plan.Columns-1], Parting: partings[0], Partings: partings,
		ThinnestMM: t.ThinnestMM, Thickness: t, BaitML: b.VolumeMM3 / 1000, LengthMM: b.LengthMM, OpeningN: best.OpeningN,
		Layout: plan, Setups: setups, Practice: a.Practice, Files: []string{}, Warnings: []string{}, Scale: 1,
	}
	for _, c := range plan.Places {
		var loops [][]r2.Point
		for _, loop := range b.Outlines() {
			for i, p := range loop {
				loop[i] = c.inBlock(p.X, p.Y)
			}
			loops = append(loops, loop)
		}
		r.Outlines = append(r.Outlines, loops)
	}
	r.warn(best, a)
	return r
}

func (r *Result) warn(best Setup, a Ask) {
	add := func(format string, args ...any) { r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...)) }
	if !best.Fits {
		add("%d cavities do not fit: %s", best.Cavities, best.Why)
	}
	if p := r.Parting; p.UndercutMM2 > 0.005*r.Thickness.area() {
		add("%.0f mm2 of the bait are undercut along the pull: soft plastic gives way where metal does not, and how much the first baits tell", p.UndercutMM2)
	}
	if a.Colours == 2 && !r.Parting.ColourLine {
		add("the mold does not part along the back: two streams that meet in its parting face lay their line on edge, not between back and belly")
	}
	for _, t := range r.Thickness.Thin {
		add("%.0f mm2 of skin are thinner than %.2g mm, round (%.1f, %.1f, %.1f) mm: that %s", t.AreaMM2, t.LimitMM, t.AtMM[0], t.AtMM[1], t.AtMM[2], t.What)
	}
}

// area is that of all skin in the histogram, in mm2.
func (t *Thickness) area() float64 {
	total := 0.0
	for _, b := range t.Histogram {
		total += b.AreaMM2
	}
	return total
}
