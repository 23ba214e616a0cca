package files

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity/units"
)

// MoldText is a mold file of a mold that is not cut yet, as people write it.
type MoldText struct {
	Shop, Bait, Mold, Model string
	Back, Nose              r3.Vector
	Cavities                int
	RunnerML                float64
	Runner                  string // a remark on it
	Injector, Vessel        string
	Share                   float64 // of the first of two colours
	Colours                 []ColourText
}

// Text writes the file.
func (m MoldText) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# Made by bellyline size. Check every figure before metal is cut.\n")
	fmt.Fprintf(&b, "shop: %q\nbait: %q\nmold: %q\n\n", m.Shop, m.Bait, m.Mold)
	fmt.Fprintf(&b, "model: %s\nunit: mm\nback: %s\nnose: %s\ncavities: %d\n\n", Scalar(m.Model), DirectionText(m.Back), DirectionText(m.Nose), m.Cavities)
	fmt.Fprintf(&b, "feed:\n  runner: {volume: %.3f mL}   # %s\n\n", m.RunnerML, m.Runner)
	fmt.Fprintf(&b, "injector: %q\nvessel: %q\n", m.Injector, m.Vessel)
	if len(m.Colours) > 1 {
		fmt.Fprintf(&b, "line: {belly_share: %.4g/%.4g}\n", m.Share*100, 100-m.Share*100)
	}
	fmt.Fprintf(&b, "colours:             # from belly to back%s\n", ColoursText(m.Colours))
	return b.String()
}

// ShopText is a shop file to be filled in.
type ShopText struct {
	ExpansionPerC float64
	Pour          units.Celsius
	Barrels       []BarrelText
}

// BarrelText is one barrel of its injector.
type BarrelText struct {
	Name             string
	HoldsML, KeepsML float64
}

// The names that a shop file to be filled in has.
const (
	NewInjector = "injector"
	NewMaterial = "plastisol"
	NewVessel   = "vessel"
)

// Text writes the file. What nobody has told in it is common practice, no source.
func (s ShopText) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# Made by bellyline size with usual figures: put your own in before you pour.\nshop: \"to be filled in\"\n\n")
	fmt.Fprintf(&b, "materials:\n  %s:\n    density: 1.02      # g/mL, cold\n    expansion: %g  # by volume, per degree C\n    pour: %.1fC\n    ceiling: 190C\n\n", NewMaterial, s.ExpansionPerC, float64(s.Pour))
	fmt.Fprintf(&b, "injectors:\n  %s:\n", NewInjector)
	if len(s.Barrels) > 1 {
		fmt.Fprintf(&b, "    drive: independent # ganged needs bore: in each barrel\n")
	}
	fmt.Fprintf(&b, "    barrels:\n")
	for _, barrel := range s.Barrels {
		fmt.Fprintf(&b, "      %q: {holds: %g mL, keeps: %g mL}\n", barrel.Name, barrel.HoldsML, barrel.KeepsML)
	}
	fmt.Fprintf(&b, "\nvessels:\n  %s: {holds: 4 cups, fill: 50 %%, keeps: 8 mL}\n", NewVessel)
	return b.String()
}
