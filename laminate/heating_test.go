package laminate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestHeatingsReplayed cooks every heating as the card says: fresh plastisol on
// top of what was left, as much of that as the vessel has room for, then the
// shots.
func TestHeatingsReplayed(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		shots, count := 0, 0
		for _, h := range p.Heatings {
			shots += h.Times * h.Shots
			count += h.Times
		}
		if shots != p.Order.Shots {
			t.Errorf("%d shots heated of %d", shots, p.Order.Shots)
		}
		if least, most := fewestHeatings(j, d, shots, hair), fewestHeatings(j, d, shots, -hair); count < least || count > most {
			t.Errorf("%d heatings, %d to %d are needed", count, least, most)
		}
		for i := range j.Colours {
			replay(t, j, p, d, i)
		}
	})
}

// replay cooks colour i; volumes are hot mL.
func replay(t *rapid.T, j Job, p *Pour, d rederived, i int) {
	m, left := d.mixes[i], 0.0
	keeps := j.Injector.Barrels[i].KeepsML + j.Vessel.KeepsML
	slack := rounding*m.hotML/cupML + 1e-9
	mark := min(j.Vessel.HoldsML*j.Vessel.Fill*m.hotML/m.coldML, j.Vessel.HoldsML) // as hot volume
	within(t, "mark on the vessel", p.Setup[i].MarkML*m.hotML/m.coldML, mark, 1e-9)
	for _, h := range p.Heatings {
		c := h.Colours[i]
		if n := c.Cups * 8; math.Abs(n-math.Round(n)) > 1e-9 || n < 0 {
			t.Fatalf("%g cups are no eighths", c.Cups)
		}
		fresh, used := c.Cups*m.hotML, float64(h.Shots)*d.shot[i].hotML
		equal(t, "plastisol", c.PlastisolML, c.Cups*cupML)
		equal(t, "plastisol's grams", c.PlastisolG, c.Cups*cupML*j.Colours[i].Mix.Plastisol.DensityGML)
		for range h.Times {
			back := min(left, mark-fresh)
			switch {
			case fresh > mark+slack:
				t.Fatalf("%s: %g mL of fresh plastic, the mark is at %g", c.Name, fresh, mark)
			case fresh+back < used+keeps-slack:
				t.Fatalf("%s: %g fresh and %g put back do not give %d shots of %g and keep %g", c.Name, fresh, back, h.Shots, d.shot[i].hotML, keeps)
			case fresh > 0 && left+fresh-m.hotML/8 > used+keeps+slack:
				t.Fatalf("%s: 1/8 cup less than %g cups would have done", c.Name, c.Cups)
			case left-back > m.hotML/8+slack:
				t.Fatalf("%s: %g mL has to wait, more than 1/8 cup", c.Name, left-back)
			}
			left += fresh - used
		}
	}
	o := p.Order.Colours[i]
	within(t, "left at the end", math.Max(0, left)*m.hot(), o.LeftG, 1e-11*o.BoughtG)
}

// fewestHeatings shares the shots out evenly among ever more heatings until each
// fits its vessels, give or take slack.
func fewestHeatings(j Job, d rederived, shots int, slack float64) int {
	for n := 1; n < shots; n++ {
		largest := (shots + n - 1) / n
		fits := true
		for i := range j.Colours {
			fits = fits && fitsVessel(j, d, i, largest, slack)
		}
		if fits {
			return n
		}
	}
	return shots // one each: that one shot fits is tested with refusals
}

func TestLoadsFitTheBarrels(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		certain, perhaps := math.MaxInt, math.MaxInt
		var shots []float64
		for i, b := range j.Injector.Barrels {
			n, m := shotsIn(b.CapacityML-b.KeepsML, d.shot[i].hotML)
			certain, perhaps = min(certain, n), min(perhaps, m)
			shots = append(shots, (b.CapacityML-b.KeepsML)/d.shot[i].hotML)
		}
		checkFirst(t, p.Load.Limiting, j, shots)
		largest, fewest, most := 0, 0, 0
		for _, h := range p.Heatings {
			largest = max(largest, h.Shots)
			for shot := 0; shot < h.Shots; shot += perhaps {
				fewest += h.Times
			}
			for shot := 0; shot < h.Shots; shot += max(1, certain) {
				most += h.Times
			}
		}
		l := p.Load
		if l.Loads < fewest || l.Loads > most || l.ShotsPerLoad < min(certain, largest) || l.ShotsPerLoad > min(perhaps, largest) {
			t.Errorf("got %+v; want %d to %d loads of %d to %d shots", l, fewest, most, min(certain, largest), min(perhaps, largest))
		}
		for i, b := range p.Load.Barrels {
			given := j.Injector.Barrels[i]
			if b.DrawML > given.CapacityML*(1+1e-9) {
				t.Errorf("%g mL drawn into %g mL", b.DrawML, given.CapacityML)
			}
			equal(t, "drawn", b.DrawML, float64(p.Load.ShotsPerLoad)*d.shot[i].hotML+given.KeepsML)
			bore := math.Pi * given.BoreMM * given.BoreMM / 4
			equal(t, "travel", b.TravelMM*bore, d.shot[i].hotML*1000)
			equal(t, "mark", b.DrawMM*bore, (b.DrawML-given.KeepsML)*1000)
		}
	})
}
