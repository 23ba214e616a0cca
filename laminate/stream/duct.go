package stream

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// Duct is a part of the runner: round when DepthMM is 0, else rectangular with
// DepthMM along the back direction.
type Duct struct {
	Name     string
	WidthMM  float64 // or diameter
	DepthMM  float64
	LengthMM float64
}

// RunnerPart is what one duct of the runner does.
type RunnerPart struct {
	Name          string  `json:"name"`
	VolumeMM3     float64 `json:"volume_mm3"`
	BackAreaShare float64 `json:"back_area_share"` // what it keeps, as share of its volume

	conductance float64 // mm4
	shear       float64 // wall shear rate over flow, 1/mm3
	section     Section
	length      float64
}

func (d Duct) check() error {
	const largest = 10_000
	for _, x := range []float64{d.WidthMM, d.LengthMM} {
		if !(x > 0 && x <= largest) {
			return fmt.Errorf("%w: a %s of %g mm", ErrConditions, d.Name, x)
		}
	}
	if !(d.DepthMM >= 0 && d.DepthMM <= largest) {
		return fmt.Errorf("%w: a %s %g mm deep", ErrConditions, d.Name, d.DepthMM)
	}
	return nil
}

// roundCorners is how many corners stand for a circle; with the circle's own area
// they lose less of its flow than 1e-6.
const roundCorners = 360

func (d Duct) section() Section {
	if d.DepthMM > 0 {
		x, y := d.WidthMM/2, d.DepthMM/2
		return Section{Loops: [][]r2.Point{{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}}}
	}
	angle := 2 * math.Pi / roundCorners
	r := d.WidthMM / 2 * math.Sqrt(angle/math.Sin(angle))
	loop := make([]r2.Point, roundCorners)
	for i := range loop {
		sin, cos := math.Sincos(angle * (float64(i) + 0.5))
		loop[i] = r2.Point{X: r * cos, Y: r * sin}
	}
	return Section{Loops: [][]r2.Point{loop}}
}

func (d Duct) flow(backFeed float64, ratio float64, opts Options) (RunnerPart, error) {
	part := RunnerPart{Name: d.Name, section: d.section(), length: d.LengthMM}
	v, err := newSolver(part.section, opts)
	if err != nil {
		return part, err
	}
	p, err := v.parting(1-backFeed, ratio)
	if err != nil {
		return part, err
	}
	part.VolumeMM3 = v.area * d.LengthMM
	part.BackAreaShare = 1 - p.BelowAreaShare
	part.conductance = p.Flow.TotalMM4
	one, err := v.oneFluid()
	if err != nil {
		return part, err
	}
	part.shear = wallShear(part.section, v.area, one.TotalMM4)
	return part, nil
}

// wallShear is the shear rate at the wall over the flow, in 1/mm3, of one fluid on
// the mean over the wall: the shear stress there is pressure gradient times area
// over girth.
func wallShear(s Section, area, conductance float64) float64 {
	girth := 0.0
	for _, e := range s.edges() {
		girth += e.b.Sub(e.a).Norm()
	}
	return area / girth / conductance
}

// CavityShare returns the back's share of the cavities' volume: what was delivered
// less what the runner keeps. Runner sections hold the streams by area, so they
// keep more of the smaller one than its share of the flow.
func CavityShare(backFeed, cavitiesMM3 float64, runner []RunnerPart) float64 {
	all, kept := cavitiesMM3, 0.0
	for _, r := range runner {
		all += r.VolumeMM3
		kept += r.VolumeMM3 * r.BackAreaShare
	}
	return (backFeed*all - kept) / cavitiesMM3
}
