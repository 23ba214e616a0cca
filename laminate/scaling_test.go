package laminate

import (
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity"
)

// roomy gives a random job barrels and vessels that hold any shot of it, and
// baits that were weighed, so that nothing but the numbers under test matters.
func roomy(t *rapid.T) Job {
	j := randomJob(t, []*cavity.Cavity{nil})
	for i := range j.Injector.Barrels {
		j.Injector.Barrels[i].CapacityML = 1e5
	}
	j.Vessel.HoldsML = 1e6
	return j
}

// Twice the cavities and the feed of a shot, half the shots: the same plastic
// in baits and in trimmings.
func TestTwiceTheCavities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := roomy(t)
		j.Baits = 2 * j.Cavities * rapid.IntRange(1, 100).Draw(t, "shots")
		one := pourIt(t, j)
		j.Cavities *= 2
		for i, c := range j.Feed {
			j.Feed[i].Count = 2 * max(1, c.Count)
		}
		two := pourIt(t, j)
		same(t, "shots", 2*two.Order.Shots, one.Order.Shots)
		equal(t, "shot", two.Shot.VolumeML, 2*one.Shot.VolumeML)
		equal(t, "bait", two.Bait.MassG, one.Bait.MassG)
		for i := range j.Colours {
			equal(t, "in baits", two.Order.Colours[i].BaitsG, one.Order.Colours[i].BaitsG)
			equal(t, "in trimmings", two.Order.Colours[i].TrimmingsG, one.Order.Colours[i].TrimmingsG)
			equal(t, "shots a cup", 2*two.ShotsPerCup[i].Shots, one.ShotsPerCup[i].Shots)
			equal(t, "travel", two.Load.Barrels[i].TravelMM, 2*one.Load.Barrels[i].TravelMM)
		}
	})
}

// Belly named back and back belly: the same pour seen from the other side.
func TestColoursChangePlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := roomy(t)
		if len(j.Colours) != 2 {
			t.Skip("one colour")
		}
		p := pourIt(t, j)
		other := j
		other.Colours = []Colour{j.Colours[1], j.Colours[0]}
		other.Injector.Barrels = []Barrel{j.Injector.Barrels[1], j.Injector.Barrels[0]}
		other.LeftML = []float64{j.LeftML[1], j.LeftML[0]}
		other.Lines = []Line{{Share: 1 - j.Lines[0].Share}}
		q := pourIt(t, other)
		equal(t, "bait", q.Bait.MassG, p.Bait.MassG)
		equal(t, "shot", q.Shot.VolumeML, p.Shot.VolumeML)
		equal(t, "delivered", q.Line.DeliveredShare, 1-p.Line.DeliveredShare)
		same(t, "baits from what is left", q.Left.Baits, p.Left.Baits)
		for i, c := range p.Shot.Colours {
			equal(t, "grams", q.Shot.Colours[1-i].MassG, c.MassG)
			equal(t, "hot", q.Shot.Colours[1-i].TotalML, c.TotalML)
			equal(t, "trimmings", q.Order.Colours[1-i].TrimmingsG, p.Order.Colours[i].TrimmingsG)
		}
	})
}

// Two colours of one mix take together what one colour takes, however they are
// parted and however they are driven.
func TestOneMixInTwoColours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := roomy(t)
		j.Colours = j.Colours[:1]
		barrel := j.Injector.Barrels[0]
		j.Injector.Barrels, j.LeftML, j.Lines = []Barrel{barrel}, nil, nil
		one := pourIt(t, j)
		j.Colours = []Colour{j.Colours[0], j.Colours[0]}
		barrel.BoreMM *= between(t, "other bore", 0.2, 5)
		j.Injector.Barrels = append(j.Injector.Barrels, barrel)
		j.Lines = []Line{{Share: between(t, "share", 0.02, 0.98)}}
		two := pourIt(t, j)
		equal(t, "bait", two.Bait.MassG, one.Bait.MassG)
		equal(t, "unfed", two.Bait.MassUnfedG, one.Bait.MassUnfedG)
		equal(t, "fed", two.Bait.MassFedG, one.Bait.MassFedG)
		equal(t, "density", two.Bait.DensityGML, one.Bait.DensityGML)
		equal(t, "shot", two.Shot.VolumeML, one.Shot.VolumeML)
		equal(t, "grams", two.Shot.Colours[0].MassG+two.Shot.Colours[1].MassG, one.Shot.Colours[0].MassG)
		equal(t, "trimmings", two.Order.TrimmingsG, one.Order.TrimmingsG)
	})
}

// A bait and trimmings that were weighed: what a shot weighs is known, whatever
// the fed share is taken to be and however hot the plastic swells.
func TestWeighedBaitAndTrimmings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := roomy(t)
		grams := j.WeighedBaitG * float64(j.Cavities)
		for i := range j.Feed {
			j.Feed[i].VolumeML, j.Feed[i].Count = 0, 1
			grams += j.Feed[i].MassG
		}
		total := 0.0
		for _, c := range pourIt(t, j).Shot.Colours {
			total += c.MassG
		}
		equal(t, "shot on the scale", total, grams)
	})
}

// The fed share is a matter of the bait only: the runner holds the same, and each
// step of it draws the same again.
func TestFedShareIsLinear(t *testing.T) {
	from := bodies(t)[:3]
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, from)
		for i := range j.Injector.Barrels {
			j.Injector.Barrels[i].CapacityML = 1e5
		}
		j.Vessel.HoldsML = 1e6
		at := func(fed float64) *Pour { j.Fed = fed; return pourIt(t, j) }
		none, half, all := at(0), at(0.5), at(1)
		for i := range j.Colours {
			equal(t, "drawn", 2*half.Shot.Colours[i].TopUpML, all.Shot.Colours[i].TopUpML)
			equal(t, "nothing drawn", none.Shot.Colours[i].TopUpML, 0)
			equal(t, "runner", all.Shot.Colours[i].FeedML, none.Shot.Colours[i].FeedML)
			equal(t, "as it fills", all.Shot.Colours[i].BaitML, none.Shot.Colours[i].BaitML)
		}
		equal(t, "unfed", none.Bait.MassG, half.Bait.MassUnfedG)
		equal(t, "fed", all.Bait.MassG, half.Bait.MassFedG)
		equal(t, "half way", 2*half.Bait.MassG, none.Bait.MassG+all.Bait.MassG)
	})
}
