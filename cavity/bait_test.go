package cavity

import (
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity/units"
)

// A cavity of 10 mL, plastisol of 1.02 g/mL that is 0.938362 hot (1.02/(1+6e-4*145)):
// 9.38362 g when nothing is fed, 10.2 g fully fed, their mean half fed. Topping-up,
// fully fed: 1.02/0.938362-1 = 6e-4*145 = 0.087.
func TestBaitByHand(t *testing.T) {
	b := blend(t, plain(1.02))
	within(t, "unfed", b.BaitG(10, 0), 9.38362, 5e-6)
	within(t, "half fed", b.BaitG(10, 0.5), 9.79181, 5e-6)
	within(t, "fed", b.BaitG(10, 1), 10.2, 1e-12)
	within(t, "drawn", b.TopUp(1), 0.087, 1e-12)
}

func TestBaitLiesBetweenHotAndCold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plain(rapid.Float64Range(0.8, 1.4).Draw(t, "density"))
		p.ExpansionPerC = rapid.Float64Range(0, 1e-3).Draw(t, "expansion")
		grams := some(t, 150, "salt")
		b := blend(t, p, Dose{salt(1.2), units.Amount{Kind: units.ByMass, Value: grams}})
		volume := rapid.Float64Range(0.1, 500).Draw(t, "cavity")
		fed := rapid.Float64Range(0, 1).Draw(t, "fed")
		unfed, mass, full := b.BaitG(volume, 0), b.BaitG(volume, fed), b.BaitG(volume, 1)
		equal(t, "unfed is hot density times cavity", unfed, b.MassG/b.HotML*volume)
		equal(t, "fed is cold density times cavity", full, b.MassG/b.ColdML*volume)
		equal(t, "linear in the fed share", mass, unfed+fed*(full-unfed))
		if !(unfed <= mass*(1+1e-15) && mass <= full*(1+1e-15)) {
			t.Errorf("%g <= %g <= %g does not hold", unfed, mass, full)
		}
		equal(t, "what is drawn weighs the difference", b.TopUp(fed)*volume*b.HotDensity, mass-unfed)
		equal(t, "back to the cavity", b.VolumeForBait(mass, fed), volume)
		equal(t, "and forth", b.BaitG(b.VolumeForBait(12.3, fed), fed), 12.3)
	})
}
