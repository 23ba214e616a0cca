package laminate

import (
	"testing"

	"pgregory.net/rapid"
)

// Pushed one by one, belly 40 and back 60 of the job on paper take 4*4*1.0375+2.4 =
// 19 mL and 4*6*(1+0.0701299/2)+3.6 = 28.441559 mL a shot. Barrels that give 116 mL
// hold 6 and 4 of them. A vessel gives
//
//	belly  (2*254.332354-10)/19 = 26.2 shots;  back (1.75*270.762093-10)/28.441559 = 16.3
//
// so 25 shots are two heatings, 13 and 12: both barrels drawn together 4 and 3 times,
// by itself belly's 3 and 2 times, back's 4 and 3 times.
func TestRefillsOfIndependentBarrels(t *testing.T) {
	j := paperJob(t)
	j.Injector.Drive = Independent
	l := pourIt(t, j).Load
	same(t, "shots a load", l.ShotsPerLoad, 4)
	same(t, "loads", l.Loads, 7)
	for i, want := range []LoadBarrel{{ShotsFull: 6, Refills: 5}, {ShotsFull: 4, Refills: 7}} {
		same(t, "shots in a full barrel", l.Barrels[i].ShotsFull, want.ShotsFull)
		same(t, "refills", l.Barrels[i].Refills, want.Refills)
	}
	// Under one handle both are drawn at once: 4 shots a load, 13 and 12 shots (on paper).
	for _, b := range pourIt(t, paperJob(t)).Load.Barrels {
		same(t, "refills under one handle", b.Refills, 7)
	}
}

// Unequal bores under one handle: each barrel is drawn as often as the other, as far
// back as the other, and no draw is one too many.
func TestRefillsOfAnyPair(t *testing.T) {
	from := bodies(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, from)
		p, err := j.Pour(t.Context())
		if err != nil {
			t.Skip("a shot that does not fit")
		}
		for i, b := range p.Load.Barrels {
			shot, gives := p.Shot.Colours[i].TotalML, j.Injector.Barrels[i].usableML()
			if float64(b.ShotsFull)*shot > gives*(1+hair) || float64(b.ShotsFull+1)*shot < gives*(1-hair) {
				t.Errorf("%d shots of %g mL in %g mL", b.ShotsFull, shot, gives)
			}
			drawn := 0
			for _, h := range p.Heatings {
				most := b.ShotsFull
				if j.Injector.Drive == Ganged {
					for _, other := range p.Load.Barrels {
						most = min(most, other.ShotsFull)
					}
				}
				for left := h.Shots; left > 0; left -= most {
					drawn += h.Times
				}
			}
			same(t, "refills", b.Refills, drawn)
			if j.Injector.Drive == Ganged {
				equal(t, "stroke", b.DrawMM, p.Load.Barrels[0].DrawMM)
			}
		}
	})
}
