package cavity

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The frustum of radii 5 and 3 and height 10 has 513.1268001 mm3 (pi*10*(25+15+9)/3);
// a cylinder is one with equal ends, a cone one that ends in a point.
func TestChannelVolumes(t *testing.T) {
	within(t, "frustum", RoundML(10, 10, 6), 0.5131268001, 5e-11)
	within(t, "turned round", RoundML(10, 6, 10), 0.5131268001, 5e-11)
	equal(t, "cylinder", RoundML(60, 8, 8), math.Pi*16*60/1000)
	equal(t, "cone", RoundML(30, 10, 0), math.Pi*25*30/3/1000)
	equal(t, "flat", FlatML(20, 3, 1.5), 0.09)
}

// A channel weighed cold holds the same grams hot; one given as a volume is full hot.
func TestFeedKeepsItsGrams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var f Feed
		volume, grams := 0.0, 0.0
		for range rapid.IntRange(0, 5).Draw(t, "channels") {
			count := rapid.IntRange(0, 4).Draw(t, "count")
			alike := float64(count)
			if count == 0 { // not said: one
				alike = 1
			}
			if rapid.Bool().Draw(t, "weighed") {
				g := rapid.Float64Range(0, 50).Draw(t, "grams")
				f, grams = append(f, Channel{Count: count, MassG: g}), grams+alike*g
			} else {
				ml := rapid.Float64Range(0, 50).Draw(t, "mL")
				f, volume = append(f, Channel{Count: count, VolumeML: ml}), volume+alike*ml
			}
		}
		if err := f.Check(); err != nil {
			t.Fatal(err)
		}
		density := rapid.Float64Range(0.7, 1.5).Draw(t, "hot density")
		equal(t, "grams", f.HotML(density)*density, volume*density+grams)
	})
}

func TestChannelsThatCannotBe(t *testing.T) {
	for want, c := range map[string]Channel{
		"channel cannot be: runner of -1 mL":                                {Name: "runner", VolumeML: -1},
		"channel cannot be: runner of NaN mL":                               {Name: "runner", VolumeML: math.NaN()},
		"channel cannot be: plug of +Inf mL":                                {Name: "plug", VolumeML: math.Inf(1)},
		"channel cannot be: gates of -0.5 g":                                {Name: "gates", MassG: -0.5},
		"channel cannot be: gates of NaN g":                                 {Name: "gates", MassG: math.NaN()},
		"channel cannot be: -2 of gates":                                    {Name: "gates", Count: -2},
		"channel cannot be: 10001 of gates":                                 {Name: "gates", Count: 10_001, VolumeML: 1},
		"channel cannot be: sprue has both a volume and a weight; give one": {Name: "sprue", VolumeML: 1, MassG: 1},
	} {
		err := Feed{{Name: "fine", VolumeML: 1}, c}.Check()
		if !errors.Is(err, ErrChannel) || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}
