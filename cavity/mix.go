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

func (p Plastisol) check() error {
	switch {
	case !(p.DensityGML > 0):
		return fmt.Errorf("%w: plastisol %q needs a density above 0 g/mL", ErrMix, p.Name)
	case p.ExpansionPerC < 0:
		return fmt.Errorf("%w: plastisol %q has a negative expansion", ErrMix, p.Name)
	case p.Pour < p.Room:
		return fmt.Errorf("%w: plastisol %q is poured at %v, colder than the room at %v", ErrMix, p.Name, p.Pour, p.Room)
	case p.Ceiling < p.Pour:
		return fmt.Errorf("%w: plastisol %q is poured at %v, past its ceiling of %v", ErrMix, p.Name, p.Pour, p.Ceiling)
	}
	return nil
}

// GramsPerML returns the grams of the dose for one mL of plastisol measured cold.
func (d Dose) GramsPerML(p Plastisol) (float64, error) {
	g, err := d.Additive.Grams(d.PerCup, p.DensityGML*units.Cup.ML())
	return g / units.Cup.ML(), err
}

// Grams turns an amount into grams. A percentage is of plastisolG, the grams of
// plastisol that the amount goes into.
func (a Additive) Grams(amount units.Amount, plastisolG float64) (float64, error) {
	if !(a.TrueGML > 0) {
		return 0, fmt.Errorf("%w: additive %q needs a true density above 0 g/mL", ErrMix, a.Name)
	}
	switch amount.Kind {
	case units.ByMass:
		return amount.Value, nil
	case units.ByPercent:
		return amount.Value / 100 * plastisolG, nil
	case units.ByDrops:
		return amount.Value * a.dropML() * a.TrueGML, nil
	}
	if !(a.LooseGML > 0) {
		return 0, fmt.Errorf("%w: additive %q is given by volume and needs a loose density above 0 g/mL", ErrMix, a.Name)
	}
	return amount.Value * a.LooseGML, nil
}

func (a Additive) dropML() float64 {
	if a.DropML > 0 {
		return a.DropML
	}
	return DefaultDropML
}
