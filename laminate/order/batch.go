package order

import (
	"math"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Cup is one colour's vessel in one heating.
type Cup struct {
	laminate.HeatingColour         // fresh plastisol and what is stirred into it
	BackG                  float64 `json:"back_g"`   // leftovers of the colour that go in again
	MixedG                 float64 `json:"mixed_g"`  // mixed trimmings that go in
	HotML                  float64 `json:"hot_ml"`   // in the cup, all of it
	UsedML                 float64 `json:"used_ml"`  // hot, shot and purged
	PurgeML                float64 `json:"purge_ml"` // of that, shot away to clean a barrel
	LeftG                  float64 `json:"left_g"`
	Heats                  int     `json:"heats"` // how often the oldest part of it has now been heated
	// HeatToC is how hot it is made; WaitS how long it then stands until both are
	// ready, and ReadyC what is left of its heat. ReadyC is null when nobody read how the
	// vessel cools.
	HeatToC float64  `json:"heat_to_c"`
	WaitS   float64  `json:"wait_s"`
	ReadyC  *float64 `json:"ready_c"`

	colour  int
	density float64 // hot, g/mL, of the batch
}

// limits returns how much of each colour one heating can shoot, hot: from a cup of
// fresh plastisol up to the mark, less what cup and barrel keep and what is purged.
func (r *run) limits(g *group) []float64 {
	var list []float64
	for _, p := range g.parts() {
		blend := r.colours[p.colour].blend
		list = append(list, g.vessel.PlastisolLimitML(r.measures, blend)*blend.HotML-p.barrel.KeepsML-g.vessel.KeepsML-r.purge(p))
	}
	return list
}

// purge is what a barrel spills of a colour when another was in it.
func (r *run) purge(p part) float64 {
	if last, used := r.barrels[p.barrelName]; used && last != p.colour {
		return r.bench.PurgeML
	}
	return 0
}

// measure makes the batch of one colour, and takes what goes back from the shelves.
func (r *run) measure(g *group, p part, shotML, purgeML float64) Cup {
	c := r.colours[p.colour]
	usedML := shotML + purgeML
	need := usedML + p.barrel.KeepsML + g.vessel.KeepsML
	mark := g.vessel.MarkML(c.blend) / c.blend.ColdML * c.blend.HotML
	blendIn := math.Min(c.takesMixed*need, r.mixed.have(r.bench.Reheats).HotML)
	want := need - blendIn
	fresh := r.measures.CeilCups(units.Volume((want - math.Min(want, c.shelf.have(r.bench.Reheats).HotML)) / c.blend.HotML))
	freshHot := fresh.ML() * c.blend.HotML
	// Rounding fresh plastic up may leave no room under the mark for all the rest.
	mixed, heats := r.mixed.take(math.Min(blendIn, mark-freshHot), r.bench.Reheats)
	back, backHeats := c.shelf.take(math.Min(want, mark-freshHot-mixed.HotML), r.bench.Reheats)
	cup := Cup{
		HeatingColour: laminate.MeasureCup(r.measures, c.name, c.mix, c.blend, fresh),
		BackG:         back.MassG, MixedG: mixed.MassG,
		HotML: freshHot + back.HotML + mixed.HotML, UsedML: usedML, PurgeML: purgeML,
		Heats: 1 + max(heats, backHeats), colour: p.colour,
	}
	freshG := fresh.ML() * c.blend.MassG
	cup.density = (freshG + back.MassG + mixed.MassG) / cup.HotML
	c.account.FreshML += fresh.ML()
	c.account.FreshG += freshG
	c.account.MixedInG += mixed.MassG
	return cup
}

// putLeft puts what is left of a cup on the shelf.
func (r *run) putLeft(cup *Cup) {
	left := math.Max(0, cup.HotML-cup.UsedML)
	cup.LeftG = left * cup.density
	r.colours[cup.colour].shelf.put(cup.Heats, Lot{cup.LeftG, left})
}
