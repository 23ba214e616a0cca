package cavity

import (
	"errors"
	"math"
	"testing"

	"bellyline/cavity/units"
)

func TestPlastisolsThatCannotBe(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		want   string
		change func(*Plastisol)
	}{
		{`plastisol "plain" needs a density from 0.01 to 25 g/mL, not 0`, func(p *Plastisol) { p.DensityGML = 0 }},
		{`plastisol "plain" needs a density from 0.01 to 25 g/mL, not NaN`, func(p *Plastisol) { p.DensityGML = nan }},
		{`plastisol "plain" needs a density from 0.01 to 25 g/mL, not 1020`, func(p *Plastisol) { p.DensityGML = 1020 }},
		{`plastisol "plain" needs an expansion from 0 to 0.01 per degree C, not -0.0006`, func(p *Plastisol) { p.ExpansionPerC = -6e-4 }},
		{`plastisol "plain" needs an expansion from 0 to 0.01 per degree C, not NaN`, func(p *Plastisol) { p.ExpansionPerC = nan }},
		{`plastisol "plain" needs an expansion from 0 to 0.01 per degree C, not 0.6`, func(p *Plastisol) { p.ExpansionPerC = 0.6 }},
		{`plastisol "plain" is measured in a room at NaN F (NaN C)`, func(p *Plastisol) { p.Room = units.Celsius(nan) }},
		{`plastisol "plain" is measured in a room at -508 F (-300 C)`, func(p *Plastisol) { p.Room = -300 }},
		{`plastisol "plain" is poured at 68 F (20 C), colder than the room at 77 F (25 C)`, func(p *Plastisol) { p.Pour = 20 }},
		{`plastisol "plain" is poured at NaN F (NaN C), colder than the room at 77 F (25 C)`, func(p *Plastisol) { p.Pour = units.Celsius(nan) }},
		{`plastisol "plain" is poured at 338 F (170 C), past its ceiling of 320 F (160 C)`, func(p *Plastisol) { p.Ceiling = 160 }},
		{`plastisol "plain" is poured at 338 F (170 C), past its ceiling of NaN F (NaN C)`, func(p *Plastisol) { p.Ceiling = units.Celsius(nan) }},
		{`plastisol "plain" has a ceiling of 707 F (375 C), past 401 F (205 C), where vinyl breaks down; was F taken for C?`,
			func(p *Plastisol) { p.Pour, p.Ceiling = 340, 375 }},
		{`plastisol "plain" has a price of -1`, func(p *Plastisol) { p.PricePerML = -1 }},
	} {
		p := plain(1.02)
		c.change(&p)
		_, err := Mix{Plastisol: p}.Blend()
		if !errors.Is(err, ErrMix) || err.Error() != "mix cannot be: "+c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}

func TestDosesThatCannotBe(t *testing.T) {
	nan := math.NaN()
	spoon := units.Amount{Kind: units.ByVolume, Value: 1}
	for _, c := range []struct {
		want   string
		amount units.Amount
		change func(*Additive)
	}{
		{`additive "salt" needs a true density from 0.01 to 25 g/mL, not 0`, spoon, func(a *Additive) { a.TrueGML = 0 }},
		{`additive "salt" needs a true density from 0.01 to 25 g/mL, not NaN`, spoon, func(a *Additive) { a.TrueGML = nan }},
		{`additive "salt" needs a true density from 0.01 to 25 g/mL, not +Inf`, spoon, func(a *Additive) { a.TrueGML = math.Inf(1) }},
		{`additive "salt" needs a loose density from 0.01 to 25 g/mL, not -1`, spoon, func(a *Additive) { a.LooseGML = -1 }},
		{`additive "salt" needs a loose density from 0.01 to 25 g/mL, not NaN`, spoon, func(a *Additive) { a.LooseGML = nan }},
		{`additive "salt" is heavier loose (2.165 g/mL) than without air (1.2 g/mL); swap the two`, spoon,
			func(a *Additive) { a.LooseGML, a.TrueGML = a.TrueGML, a.LooseGML }},
		{`additive "salt" has drops of NaN mL`, spoon, func(a *Additive) { a.DropML = nan }},
		{`additive "salt" has drops of -0.05 mL`, spoon, func(a *Additive) { a.DropML = -0.05 }},
		{`additive "salt" goes in "before heating" or "after heating", not ""`, spoon, func(a *Additive) { a.When = "" }},
		{`additive "salt" has a price of NaN`, spoon, func(a *Additive) { a.PricePerGram = nan }},
		{`additive "salt" is given by volume and needs a loose density above 0 g/mL`, spoon, func(a *Additive) { a.LooseGML = 0 }},
		{`additive "salt" cannot be -1 in 241.3 g of plastisol`, units.Amount{Kind: units.ByMass, Value: -1}, nil},
		{`additive "salt" cannot be 1e-300 in 241.3 g of plastisol`, units.Amount{Kind: units.ByDrops, Value: 1e-300}, nil},
		{`additive "salt" cannot be NaN in 241.3 g of plastisol`, units.Amount{Kind: units.ByDrops, Value: nan}, nil},
		{`additive "salt" cannot be +Inf in 241.3 g of plastisol`, units.Amount{Kind: units.ByPercent, Value: math.Inf(1)}, nil},
		{`additive "salt" is given in no known way`, units.Amount{Kind: 9, Value: 1}, nil},
	} {
		a := salt(1.2)
		if c.change != nil {
			c.change(&a)
		}
		_, err := Mix{Plastisol: plain(1.02), Doses: []Dose{{a, c.amount}}}.Blend()
		if !errors.Is(err, ErrMix) || err.Error() != "mix cannot be: "+c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}
