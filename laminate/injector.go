package laminate

import (
	"errors"
	"fmt"
	"math"
)

// Drive tells how the plungers of a pair of barrels are pushed.
type Drive string

// The two kinds of pair.
const (
	Independent Drive = "independent" // each plunger by itself: it can stop where the drawing wants
	Ganged      Drive = "ganged"      // one handle: equal travel, so the bores fix the ratio
)

// Barrel is one barrel of an injector.
type Barrel struct {
	Name       string  // left, right
	BoreMM     float64 // inner diameter; 0 when not known
	CapacityML float64
	KeepsML    float64 // what the plunger cannot push out; one colour, used again
}

// Injector is one barrel for one colour or a pair for two, belly's barrel first.
type Injector struct {
	Name    string
	Barrels []Barrel
	Drive   Drive
}

// ErrInjector is wrapped by errors about an injector that cannot do the job.
var ErrInjector = errors.New("injector cannot do this")

// smallestBoreMM is finer than any barrel.
const smallestBoreMM = 0.1

func (in Injector) check() error {
	if in.Drive != Independent && in.Drive != Ganged && (in.Drive != "" || len(in.Barrels) > 1) {
		return fmt.Errorf("%w: %q is driven %q; a pair is %q or %q", ErrInjector, in.Name, in.Drive, Independent, Ganged)
	}
	for _, b := range in.Barrels {
		switch {
		case !(b.CapacityML > 0 && b.CapacityML <= largest):
			return fmt.Errorf("%w: barrel %q holds %g mL", ErrInjector, b.Name, b.CapacityML)
		case !sound(b.KeepsML):
			return fmt.Errorf("%w: barrel %q keeps %g mL", ErrInjector, b.Name, b.KeepsML)
		case b.BoreMM != 0 && !(b.BoreMM >= smallestBoreMM && b.BoreMM <= largest):
			return fmt.Errorf("%w: barrel %q has a bore of %g mm", ErrInjector, b.Name, b.BoreMM)
		}
	}
	return nil
}

// Delivered returns the share of every stroke that each barrel gives, and
// whether the barrels fix it. Ganged plungers travel alike, so each gives in
// proportion to its bore squared; independent ones give what is asked.
func (in Injector) Delivered(asked []float64) (shares []float64, fixed bool, err error) {
	if len(in.Barrels) != len(asked) {
		return nil, false, fmt.Errorf("%w: %d colours need as many barrels, %q has %d", ErrInjector, len(asked), in.Name, len(in.Barrels))
	}
	if in.Drive != Ganged || len(in.Barrels) < 2 {
		return asked, false, nil
	}
	total := 0.0
	for _, b := range in.Barrels {
		if !(b.BoreMM > 0) {
			return nil, false, fmt.Errorf("%w: ganged barrels need their bores, %q has none", ErrInjector, b.Name)
		}
		total += b.BoreMM * b.BoreMM
	}
	for _, b := range in.Barrels {
		shares = append(shares, b.BoreMM*b.BoreMM/total)
	}
	return shares, true, nil
}

// TravelMM returns how far the plunger moves for a volume; 0 when the bore is not known.
func (b Barrel) TravelMM(volumeML float64) float64 {
	if b.BoreMM == 0 {
		return 0
	}
	return volumeML * 1000 / b.areaMM2()
}

func (b Barrel) areaMM2() float64 { return math.Pi / 4 * b.BoreMM * b.BoreMM }

// usableML is what one barrel load can give.
func (b Barrel) usableML() float64 { return max(0, b.CapacityML-b.KeepsML) }
