package cavity

import (
	"errors"
	"fmt"

	"bellyline/cavity/units"
)

// Plastisol is the liquid vinyl of one colour before anything is added.
type Plastisol struct {
	Name          string
	DensityGML    float64       // cold, g/mL
	ExpansionPerC float64       // by volume, per degree C, from room to pouring temperature
	Room          units.Celsius // at which cups are measured
	Pour          units.Celsius // at which it is shot
	Ceiling       units.Celsius // never past this
	Coldest       units.Celsius // colder than this it no longer fills a mold; 0 when not known
	PricePerML    float64       // money per cold mL; 0 when not given
}

// When tells when an additive goes in.
type When string

// The two moments of a pour card.
const (
	BeforeHeating When = "before heating"
	AfterHeating  When = "after heating"
)

// Additive is something that a shop stirs into plastisol.
type Additive struct {
	Name         string
	LooseGML     float64 // g in a level mL as spooned; of a liquid, its density
	TrueGML      float64 // g in a mL of the substance itself, without the air between grains
	DropML       float64 // mL in a drop; only needed for doses in drops
	When         When
	PricePerGram float64 // money per g; 0 when not given
}

// DefaultDropML is the size of a drop where a shop gives none: twenty to the
// millilitre. Common practice, no source.
const DefaultDropML = 0.05

// Dose is an additive and how much of it goes to one cup of plastisol.
type Dose struct {
	Additive Additive
	PerCup   units.Amount
}

// Mix is a plastisol with its additives.
type Mix struct {
	Plastisol Plastisol
	Doses     []Dose
}

// Blend is what becomes of a mix, for one mL of plastisol measured cold.
type Blend struct {
	ColdML      float64 // cold volume of the mix: plastisol plus the true volume of what was added
	HotML       float64 // the same at pouring temperature
	MassG       float64
	DoseG       []float64 // grams of each dose
	ColdDensity float64   // g/mL
	HotDensity  float64   // g/mL
}

// ErrMix is wrapped by every error about a mix that cannot be.
var ErrMix = errors.New("mix cannot be")

// Blend works out what the mix becomes. Solids add their true volume: salt
// given as loose cups fills the air between its own grains with plastisol.
// Only the plastisol's expansion is counted; additives are taken as rigid,
// which for a mix with a tenth of its volume in salt makes the hot volume
// about 0.1 % small (salt expands by 1.2e-4 per degree C, from memory).
func (m Mix) Blend() (Blend, error) {
	p := m.Plastisol
	if err := p.check(); err != nil {
		return Blend{}, err
	}
	hotFactor := 1 + p.ExpansionPerC*float64(p.Pour-p.Room)
	b := Blend{ColdML: 1, HotML: hotFactor, MassG: p.DensityGML}
	for _, d := range m.Doses {
		grams, err := d.GramsPerML(p)
		if err != nil {
			return Blend{}, err
		}
		b.DoseG = append(b.DoseG, grams)
		b.MassG += grams
		b.ColdML += grams / d.Additive.TrueGML
		b.HotML += grams / d.Additive.TrueGML
	}
	b.ColdDensity = b.MassG / b.ColdML
	b.HotDensity = b.MassG / b.HotML
	return b, nil
}

// mostExpansion is several times what any liquid does, by volume and degree C:
// liquid plasticizers expand by 7 to 8e-4 (from memory).
const mostExpansion = 0.01

func (p Plastisol) check() error {
	switch {
	case !soundDensity(p.DensityGML):
		return fmt.Errorf("%w: plastisol %q needs a density from %g to %g g/mL, not %g", ErrMix, p.Name, lightestGML, float64(heaviestGML), p.DensityGML)
	case !(p.ExpansionPerC >= 0 && p.ExpansionPerC <= mostExpansion):
		return fmt.Errorf("%w: plastisol %q needs an expansion from 0 to %g per degree C, not %g", ErrMix, p.Name, mostExpansion, p.ExpansionPerC)
	case !(p.Room >= units.AbsoluteZero && p.Room <= Hottest):
		return fmt.Errorf("%w: plastisol %q is measured in a room at %v", ErrMix, p.Name, p.Room)
	case !(p.Pour >= p.Room):
		return fmt.Errorf("%w: plastisol %q is poured at %v, colder than the room at %v", ErrMix, p.Name, p.Pour, p.Room)
	case !(p.Ceiling >= p.Pour):
		return fmt.Errorf("%w: plastisol %q is poured at %v, past its ceiling of %v", ErrMix, p.Name, p.Pour, p.Ceiling)
	case p.Coldest != 0 && !(p.Coldest > p.Room && p.Coldest < p.Pour):
		return fmt.Errorf("%w: plastisol %q is too thick to fill a mold at %v; that must lie between the room and where it is poured, %v", ErrMix, p.Name, p.Coldest, p.Pour)
	case p.Ceiling > Hottest:
		return fmt.Errorf("%w: plastisol %q has a ceiling of %v, past %v, where vinyl breaks down; was F taken for C?", ErrMix, p.Name, p.Ceiling, Hottest)
	case !sound(p.PricePerML):
		return fmt.Errorf("%w: plastisol %q has a price of %g", ErrMix, p.Name, p.PricePerML)
	}
	return nil
}

// GramsPerML returns the grams of the dose for one mL of plastisol measured cold.
func (d Dose) GramsPerML(p Plastisol) (float64, error) {
	g, err := d.Additive.Grams(d.PerCup, p.DensityGML*units.Cup.ML())
	return g / units.Cup.ML(), err
}

// leastAmount is less than a grain of dust, in mL, g, drops or percent: what
// rounding does to it could be beyond all numbers.
const leastAmount = 1e-9

// Grams turns an amount into grams. A percentage is of plastisolG, the grams of
// plastisol that the amount goes into.
func (a Additive) Grams(amount units.Amount, plastisolG float64) (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if !sound(amount.Value) || amount.Value > 0 && amount.Value < leastAmount || !sound(plastisolG) {
		return 0, fmt.Errorf("%w: additive %q cannot be %g in %.4g g of plastisol", ErrMix, a.Name, amount.Value, plastisolG)
	}
	switch amount.Kind {
	case units.ByMass:
		return amount.Value, nil
	case units.ByPercent:
		return amount.Value / 100 * plastisolG, nil
	case units.ByDrops:
		return amount.Value * a.dropML() * a.TrueGML, nil
	case units.ByVolume:
		if a.LooseGML == 0 {
			return 0, fmt.Errorf("%w: additive %q is given by volume and needs a loose density above 0 g/mL", ErrMix, a.Name)
		}
		return amount.Value * a.LooseGML, nil
	}
	return 0, fmt.Errorf("%w: additive %q is given in no known way", ErrMix, a.Name)
}

func (a Additive) check() error {
	switch {
	case !soundDensity(a.TrueGML):
		return fmt.Errorf("%w: additive %q needs a true density from %g to %g g/mL, not %g", ErrMix, a.Name, lightestGML, float64(heaviestGML), a.TrueGML)
	case a.LooseGML != 0 && !soundDensity(a.LooseGML):
		return fmt.Errorf("%w: additive %q needs a loose density from %g to %g g/mL, not %g", ErrMix, a.Name, lightestGML, float64(heaviestGML), a.LooseGML)
	case a.LooseGML > a.TrueGML:
		return fmt.Errorf("%w: additive %q is heavier loose (%g g/mL) than without air (%g g/mL); swap the two", ErrMix, a.Name, a.LooseGML, a.TrueGML)
	case !sound(a.DropML):
		return fmt.Errorf("%w: additive %q has drops of %g mL", ErrMix, a.Name, a.DropML)
	case a.When != BeforeHeating && a.When != AfterHeating:
		return fmt.Errorf("%w: additive %q goes in %q or %q, not %q", ErrMix, a.Name, BeforeHeating, AfterHeating, a.When)
	case !sound(a.PricePerGram):
		return fmt.Errorf("%w: additive %q has a price of %g", ErrMix, a.Name, a.PricePerGram)
	}
	return nil
}

func (a Additive) dropML() float64 {
	if a.DropML > 0 {
		return a.DropML
	}
	return DefaultDropML
}
