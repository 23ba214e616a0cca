package main

import (
	"math"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate"
)

// same checks two numbers that are computed in different ways, to rounding.
func same(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-11*max(1, math.Abs(want))) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}

func measureOne(t *testing.T, args ...string) *cavity.Measurement {
	t.Helper()
	got := decode[show.Measured](t, exitDone, append([]string{"measure"}, args...)...)
	if len(got.Models) != 1 {
		t.Fatalf("%d models", len(got.Models))
	}
	return got.Models[0]
}

func TestMeasuredNumbersAgreeWithEachOther(t *testing.T) {
	for _, bait := range []string{"paddletail", "ringgrub", "clawcraw"} {
		m := measureOne(t, example(bait, "bait.stl"), "--density", "1.02")
		same(t, "signed sum less overlap", *m.VolumeMM3-*m.OverlapMM3, *m.FillVolumeMM3)
		same(t, "mass", *m.MassG, *m.FillVolumeMM3*1.02/1000)
		for i := range 3 {
			same(t, "size", m.SizeMM[i], m.MaxMM[i]-m.MinMM[i])
			if c := m.CentroidMM[i]; c <= m.MinMM[i] || c >= m.MaxMM[i] {
				t.Errorf("%s: centroid %v outside of the box", bait, m.CentroidMM)
			}
		}
		if p := m.PrincipalMM; !(0 < p[0] && p[0] <= p[1] && p[1] <= p[2]) {
			t.Errorf("%s: radii of gyration %v do not rise", bait, p)
		}
		// The bounds of the design: double rounding is 1e-12 of the volume at most, and
		// no box holds more than its edges.
		if box := m.SizeMM[0] * m.SizeMM[1] * m.SizeMM[2]; *m.FillVolumeMM3 >= box || *m.RoundingMM3 > 1e-12*box {
			t.Errorf("%s: %g mm3, known to %g, in a box of %g", bait, *m.FillVolumeMM3, *m.RoundingMM3, box)
		}
	}
}

// An inch is 25.4 mm by definition (1959), so volumes grow by its cube.
func TestUnitsScaleTheModel(t *testing.T) {
	mm := measureOne(t, example("ringgrub", "bait.stl"))
	for unit, mmOf := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "m": 1000} {
		m := measureOne(t, example("ringgrub", "bait.stl"), "--unit", unit)
		same(t, unit+" volume", *m.FillVolumeMM3/(mmOf*mmOf*mmOf), *mm.FillVolumeMM3)
		same(t, unit+" area", m.AreaMM2/(mmOf*mmOf), mm.AreaMM2)
		same(t, unit+" length", m.SizeMM[0]/mmOf, mm.SizeMM[0])
		if warned := len(m.Warnings) > 0; warned != (mmOf > 1) { // 75 mm is a bait, 75 cm is none
			t.Errorf("%s: warnings %q", unit, m.Warnings)
		}
	}
}

func TestSplitColoursAddUp(t *testing.T) {
	for _, bait := range []string{"paddletail", "ringgrub", "clawcraw"} {
		file := example(bait, "bait.stl")
		whole := measureOne(t, file)
		lines := [][]string{{"--at", "-2", "--at", "0.5", "--at", "3"}, {"--at", "40", "--back", "1,0.2,0.1"}}
		if *whole.OverlapMM3 == 0 { // filling overlaps once takes longer
			lines = append(lines, []string{"--belly-share", "40/60"}, []string{"--at", "0"}, []string{"--at", "1", "--back", "-z"})
		}
		for _, line := range lines {
			s := decode[laminate.Split](t, exitDone, append([]string{"split", file, "--density", "1.02"}, line...)...)
			volume, share, outside := 0.0, 0.0, 0.0
			for _, c := range s.Colours {
				volume, share, outside = volume+c.VolumeMM3, share+c.Share, outside+c.OutsideMM2
				same(t, "mass", *c.MassG, c.VolumeMM3*1.02/1000)
				same(t, "share", c.Share, c.VolumeMM3 / *whole.FillVolumeMM3)
			}
			same(t, "volumes", volume, *whole.FillVolumeMM3)
			same(t, "shares", share, 1)
			if *whole.OverlapMM3 == 0 { // the skin inside of an overlap is on no outside
				same(t, "outside", outside, whole.AreaMM2)
			}
			if len(s.Colours) != len(s.Line.HeightsMM)+1 || *s.Line.HeightMM != s.Line.HeightsMM[0] || s.Pieces < len(s.Line.HeightsMM) {
				t.Errorf("%s %v: %d colours at %v, %d pieces", bait, line, len(s.Colours), s.Line.HeightsMM, s.Pieces)
			}
			// Of all plane figures the circle has the shortest rim for its area.
			if least := 2 * math.Sqrt(math.Pi*s.SplitAreaMM2); s.LineLengthMM < least {
				t.Errorf("%s %v: %g mm round %g mm2", bait, line, s.LineLengthMM, s.SplitAreaMM2)
			}
		}
		s := decode[laminate.Split](t, exitDone, "split", file, "--belly-share", "40/60")
		same(t, "belly", s.Colours[0].Share, 0.4)
	}
}

// TestPours works every example out once and checks it from several sides.
func TestPours(t *testing.T) {
	for _, mold := range moldFiles() {
		t.Run(mold, func(t *testing.T) {
			p := decode[laminate.Pour](t, exitDone, "pour", mold)
			pouredColoursAddUp(t, p)
			heatingsAddUpToTheOrder(t, p)
			barrelsDeliver(t, p)
			if b := p.Bait; !(b.MassUnfedG < b.MassG && b.MassG < b.MassFedG) {
				t.Errorf("%g g is not between %g and %g", b.MassG, b.MassUnfedG, b.MassFedG)
			}
			if n := p.Order.Shots * p.Cavities; n < p.Order.Baits || n-p.Cavities >= p.Order.Baits || p.Order.SpareBaits != n-p.Order.Baits {
				t.Errorf("%d shots of %d for %d baits, %d spare", p.Order.Shots, p.Cavities, p.Order.Baits, p.Order.SpareBaits)
			}
		})
	}
}

func pouredColoursAddUp(t *testing.T, p laminate.Pour) {
	t.Helper()
	volume, share := 0.0, 0.0
	for i, c := range p.Shot.Colours {
		volume, share = volume+c.TotalML, share+c.Share
		same(t, "total", c.BaitML+c.TopUpML+c.FeedML, c.TotalML)
		same(t, "mass hot", c.TotalML*p.Setup[i].HotGML, c.MassG)
		same(t, "mass cold", c.ColdML*p.Setup[i].DensityGML, c.MassG)
		o := p.Order.Colours[i]
		same(t, "account", o.BaitsG+o.SpareG+o.TrimmingsG+o.LeftG, o.BoughtG)
		same(t, "shot", (o.BaitsG+o.SpareG+o.TrimmingsG)/float64(p.Order.Shots), c.MassG)
		same(t, "left over", p.Order.LeftoverML[i]*p.Setup[i].DensityGML, o.LeftG)
		same(t, "cups", o.Cups*units.Cup.ML(), o.PlastisolML)
		if p.ShotsPerCup[i].Name != c.Name || o.Name != c.Name || p.Setup[i].Name != c.Name {
			t.Errorf("colours in different orders")
		}
	}
	same(t, "shot", volume, p.Shot.VolumeML)
	same(t, "shares", share, 1)
}

// What the heatings take is what the order takes.
func heatingsAddUpToTheOrder(t *testing.T, p laminate.Pour) {
	t.Helper()
	shots := 0
	plastisol := make([]float64, len(p.Setup))
	for _, h := range p.Heatings {
		shots += h.Times * h.Shots
		for i, c := range h.Colours {
			plastisol[i] += float64(h.Times) * c.PlastisolML
		}
	}
	if shots != p.Order.Shots {
		t.Errorf("heatings of %d shots in all, the order takes %d", shots, p.Order.Shots)
	}
	for i, o := range p.Order.Colours {
		same(t, o.Name, plastisol[i], o.PlastisolML)
		for _, d := range p.Doses {
			if o.Name == d.Colour {
				same(t, d.Additive, d.PerCupG*o.Cups, d.TotalG)
			}
		}
	}
}

// Equal ganged barrels give half and half whatever was drawn; the bores of the
// unequal pair, 1 1/4 and 1 in, give (5/4)^2 to 1, so that the belly, from the
// small one, has 16/41. Barrels pushed by hand give what was drawn.
func barrelsDeliver(t *testing.T, p laminate.Pour) {
	t.Helper()
	if p.Line == nil {
		return
	}
	want := map[string]float64{"twin": 0.5, "big and small": 16.0 / 41, "hand pair": p.Line.AskedShare}[p.Injector]
	same(t, "delivered", p.Line.DeliveredShare, want)
	same(t, "in the baits", p.Shot.Colours[0].BaitML/(p.Shot.Colours[0].BaitML+p.Shot.Colours[1].BaitML), want)
}

// pour and split put the same line at the same height: the mold file asks for
// {belly_share: 40/60}.
func TestPourDrawsTheLineWhereSplitDoes(t *testing.T) {
	p := decode[laminate.Pour](t, exitDone, "pour", example("ringgrub", "mold.yaml"))
	s := decode[laminate.Split](t, exitDone, "split", example("ringgrub", "bait.stl"), "--belly-share", "40/60")
	same(t, "asked share", p.Line.AskedShare, 0.4)
	same(t, "asked height", *p.Line.AskedMM, *s.Line.HeightMM)
	low := measureOne(t, example("ringgrub", "bait.stl")).MinMM[2]
	same(t, "above the lowest point", *p.Line.AskedUpMM, *s.Line.HeightMM-low)
}

// A cup left of each colour, by hand from the printed shot: whole shots of what
// the cup (quart cup: keeps 8 mL) lets go.
func TestLeftCountsWholeShots(t *testing.T) {
	p := decode[laminate.Pour](t, exitDone, "pour", example("weighed.yaml"), "--left", "back=1 cup,belly=1/2 cup")
	shots := math.Inf(1)
	for i, ml := range []float64{units.Cup.ML() / 2, units.Cup.ML()} {
		shots = min(shots, math.Floor((ml-8)/p.Shot.Colours[i].TotalML))
	}
	if p.Left == nil || float64(p.Left.Shots) != shots || p.Left.Baits != p.Left.Shots*4 || p.Left.Limiting != "belly" {
		t.Errorf("left: %+v, want %g shots, belly first", p.Left, shots)
	}
}
