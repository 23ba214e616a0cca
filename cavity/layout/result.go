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
	Money        string     `json:"money"` // what prices are in; empty: not said
	Runner       Runner     `json:"runner"`
	GateMM       float64    `json:"gate_mm"` // of the last station; the others in the runner
	Parting      Parting    `json:"parting"`
	Partings     []Parting  `json:"partings"`    // candidates, what speaks least against first
	ThinnestMM   float64    `json:"thinnest_mm"` // a hundredth of the skin is thinner
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
	Sources      string     `json:"practice_from"` // where those sizes come from
	Files        []string   `json:"files"`
	RunnerSaved  bool       `json:"runner_saved"` // runner and gates are in the saved halves
	Warnings     []string   `json:"warnings"`

	Outlines [][][]r2.Point `json:"-"` // of every cavity in the parting face

	bait *Bait
}

// NewResult puts a chosen setup together with what led to it.
func NewResult(b *Bait, best Setup, setups []Setup, taken Parting, partings []Parting, t *Thickness, a Ask) *Result {
	plan := best.plan
	r := &Result{
		Cavities: best.Cavities, ShotML: best.ShotML, Limit: best.Limit, BarrelUse: best.BarrelUse, BlockMM: best.BlockMM, BlockKg: best.BlockKg,
		MetalCost: best.MetalCost, Runner: plan.Runner, GateMM: plan.Runner.GatesMM[plan.Columns-1], Parting: taken, Partings: partings,
		ThinnestMM: t.ThinnestMM, Thickness: t, BaitML: b.VolumeMM3 / 1000, LengthMM: b.LengthMM, OpeningN: best.OpeningN,
		Layout: plan, Setups: setups, Practice: a.Practice, Files: []string{}, Warnings: []string{}, Scale: 1,
		bait: b,
	}
	for _, c := range plan.Places {
		var loops [][]r2.Point
		for _, loop := range b.loops {
			placed := make([]r2.Point, len(loop))
			for i, p := range loop {
				placed[i] = c.inBlock(p.X, p.Y)
			}
			loops = append(loops, placed)
		}
		r.Outlines = append(r.Outlines, loops)
	}
	r.warn(best, a)
	return r
}

func (r *Result) warn(best Setup, a Ask) {
	add := func(format string, args ...any) { r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...)) }
	if !best.Fits {
		add("%s: %s", map[bool]string{true: "1 cavity does not fit", false: fmt.Sprintf("%d cavities do not fit", best.Cavities)}[best.Cavities == 1], best.Why)
	}
	if p := r.Parting; p.UndercutMM2 > 0.005*r.Thickness.area() {
		add("%.0f mm2 of the bait are undercut along the pull: soft plastic gives way where metal does not, and how much the first baits tell", p.UndercutMM2)
	}
	r.warnOfColours(add, a)
	if b := r.bait; b.AboveMM < r.GateMM/2 || b.BelowMM < r.GateMM/2 {
		add("the bait reaches %.1f mm into the lower half and %.1f mm into the upper one: gates cannot be alike in both halves, cut them into the one that the bait lies in", b.BelowMM, b.AboveMM)
	}
	for i, t := range r.Layout.Tips {
		if !t.Vented && (i == 0 || t.ThickMM < r.Practice.ThinTipMM) {
			add("the tip %.1f mm from the gate and %.1f mm across finds no way out for a vent in the parting face: give it a pin or a hole of its own", t.AtMM[1], t.AtMM[0])
		}
	}
	for _, t := range r.Thickness.Thin {
		add("%.0f mm2 of skin (%s) round (%.1f, %.1f, %.1f) mm are thinner than %.2g mm, a tenth of it than %.2g mm: that %s", t.AreaMM2, t.Where, t.AtMM[0], t.AtMM[1], t.AtMM[2], t.LimitMM, t.ThinnestMM, t.What)
	}
}

// lineTrifleMM is how far a colour line may lie from the parting face unsaid.
const lineTrifleMM = 0.5

func (r *Result) warnOfColours(add func(format string, args ...any), a Ask) {
	if a.Colours() < 2 {
		return
	}
	switch p := r.Parting; {
	case p.LineAwayMM == nil:
		add("the mold does not part along the back: two streams that meet in its parting face lay their line on edge, not between back and belly")
	case *p.LineAwayMM > lineTrifleMM:
		add("the wanted colour line lies %.1f mm from the parting face, in which the two streams meet: near the gate the line follows the face", *p.LineAwayMM)
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
