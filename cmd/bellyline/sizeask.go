package main

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/layout"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
	"bellyline/mesh"
)

// directions of the model; pull is zero when it is to be found.
type directions struct{ back, nose, pull r3.Vector }

// room is where plastic is measured cold, in C: usual.
const room = 21

// handMPa is the pressure of a hand on a plunger: 30 kg on a bore of 32 mm makes
// 0.37 MPa, of which half is left in the cavity. Common practice, no source.
const handMPa = 0.2

// ask reads what the flags and the shop file say.
func (f *sizeFlags) ask(c *call) (layout.Ask, directions, error) {
	a := layout.Ask{Cavities: f.cavities, Fed: cavity.DefaultFed, PressureMPa: handMPa}
	way, err := f.directions()
	if err != nil {
		return a, way, err
	}
	shop, err := f.takeShop(c, &a)
	if err != nil {
		return a, way, err
	}
	if a.Injectors, err = f.takeInjectors(c, shop); err != nil {
		return a, way, err
	}
	if a.BetweenS, err = parseTime(f.between); err != nil || a.BetweenS < 0 {
		return a, way, usagef("--between %q is not a time, like 40s", f.between)
	}
	if c.flags.Changed("refill") || shop == nil {
		if a.RefillS, err = parseTime(f.refill); err != nil || a.RefillS < 0 {
			return a, way, usagef("--refill %q is not a time, like 20s", f.refill)
		}
	}
	if c.flags.Changed("cavities") && f.cavities < 1 {
		return a, way, usagef("--cavities %d: give a number from 1 on", f.cavities)
	}
	if a.Compare, err = parseCounts(f.compare); err != nil {
		return a, way, err
	}
	if f.largest != "" {
		if a.LargestMM, err = files.Rectangle(f.largest); err != nil {
			return a, way, usagef("--largest %v", err)
		}
	}
	if f.price != "" {
		if a.PricePerML, err = files.PerVolume(f.price); err != nil {
			return a, way, usagef("--plastic-price %q is not a price, like 42/gal", f.price)
		}
	}
	if f.labour != "" {
		if a.LabourPerS, err = files.PerTime(f.labour); err != nil {
			return a, way, usagef("--labour %q is not a wage, like 18/h", f.labour)
		}
	}
	melt, err := parseHeat("melt", f.melt)
	if err != nil {
		return a, way, err
	}
	a.HotPerCold = 1 + f.expansion*(float64(melt)-room)
	return a, way, nil
}

func (f *sizeFlags) directions() (way directions, err error) {
	for _, d := range []struct {
		flag, text string
		to         *r3.Vector
	}{{"back", f.back, &way.back}, {"nose", f.nose, &way.nose}, {"pull", f.pull, &way.pull}} {
		if d.text == "" && d.flag == "pull" {
			continue
		}
		if *d.to, err = mesh.ParseDirection(d.text); err != nil {
			return way, usageError{"--" + d.flag + ": " + err.Error()}
		}
	}
	if _, err := cavity.NewFrame(way.back, way.nose); err != nil {
		return way, usagef("--back and --nose lie along one line; the back is up, the nose is forward")
	}
	if f.pull != "" && f.parting != 0 {
		return way, usagef("--pull and --parting both say where it parts; give one")
	}
	return way, nil
}

// takeShop reads what a shop file says of prices and of how molds are cut; what a flag
// says goes before it. There is no shop without --shop.
func (f *sizeFlags) takeShop(c *call, a *layout.Ask) (*files.Shop, error) {
	a.Practice = f.practice
	if f.shop == "" {
		return nil, nil
	}
	shop, err := files.ReadShop(f.shop)
	if err != nil {
		return nil, err
	}
	a.Practice, a.Clamps, a.LargestMM = shop.NewMold.Practice, shop.NewMold.Clamps, shop.NewMold.LargestMM
	f.shopFile, f.given = shop, shop.NewMold.Given
	for _, p := range practiceFlags {
		if c.flags.Changed(p.flag) {
			*p.of(&a.Practice) = *p.of(&f.practice)
		}
	}
	if shop.FedGiven {
		a.Fed = shop.Fed
	}
	a.LabourPerS, a.RefillS = shop.Bench.LabourPerHour/3600, shop.Bench.RefillS
	for _, name := range slices.Sorted(maps.Keys(shop.Materials)) { // the cheapest that has a price
		if price := shop.Materials[name].PricePerML; price > 0 && (a.PricePerML == 0 || price < a.PricePerML) {
			a.PricePerML = price
		}
	}
	return shop, nil
}

// takeInjectors makes injectors of --barrel, or takes them from the shop file.
func (f *sizeFlags) takeInjectors(c *call, shop *files.Shop) ([]layout.Injector, error) {
	share, err := units.ParseShare(f.share)
	if err != nil {
		return nil, usageError{"--belly-share: " + err.Error()}
	}
	if share < 0.001 || share > 0.999 {
		return nil, usagef("--belly-share %s leaves nothing for one colour", f.share)
	}
	if f.colours < 1 {
		return nil, usagef("--colours %d: give 1 or 2", f.colours)
	}
	switch {
	case len(f.barrels) > 0 && len(f.injectors) > 0:
		return nil, usagef("--barrel and --injector both say what fills the mold; give one")
	case len(f.barrels) > 0:
		return f.plainBarrels(share)
	case shop == nil && len(f.injectors) > 0:
		return nil, usagef("--injector names one of a shop file; give --shop")
	case shop == nil:
		return nil, usagef("needs --barrel: what one barrel of the injector holds, like 120 or '4 fl oz'; or --shop")
	}
	colours := f.colours
	names := f.injectors
	switch {
	case len(names) == 0:
		names = fittingInjectors(shop, colours)
		if len(names) == 0 {
			return nil, fmt.Errorf("%s: no injector has %d barrels for %d colours", shop.File, colours, colours)
		}
	case !c.flags.Changed("colours"):
		colours = len(shop.Injectors[names[0]].Barrels)
	}
	var list []layout.Injector
	for _, name := range names {
		in, ok := shop.Injectors[name]
		if !ok {
			return nil, fmt.Errorf("%s: there is no injector %q; it has %s", shop.File, name, strings.Join(slices.Sorted(maps.Keys(shop.Injectors)), ", "))
		}
		if len(in.Barrels) != colours {
			return nil, usagef("injector %q has %d %s, one a colour; give --colours %d", name, len(in.Barrels), document.Plural(len(in.Barrels), "barrel"), len(in.Barrels))
		}
		one, err := injectorOf(in, share)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	return list, nil
}

// fittingInjectors lists those with a barrel for each colour, the largest first.
func fittingInjectors(shop *files.Shop, colours int) []string {
	holds := func(name string) float64 {
		least := math.Inf(1)
		for _, b := range shop.Injectors[name].Barrels {
			least = min(least, b.CapacityML-b.KeepsML)
		}
		return least
	}
	names := slices.DeleteFunc(slices.Sorted(maps.Keys(shop.Injectors)), func(n string) bool { return len(shop.Injectors[n].Barrels) != colours })
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(holds(b), holds(a)) })
	return names
}

// injectorOf is an injector of the shop file as it delivers.
func injectorOf(in laminate.Injector, bellyShare float64) (layout.Injector, error) {
	asked := []float64{1}
	if len(in.Barrels) == 2 {
		asked = []float64{bellyShare, 1 - bellyShare}
	}
	shares, _, err := in.Delivered(asked)
	if err != nil {
		return layout.Injector{}, err
	}
	one := layout.Injector{Name: in.Name}
	for i, b := range in.Barrels {
		one.Barrels = append(one.Barrels, layout.Barrel{Name: b.Name, HoldsML: b.CapacityML, KeepsML: b.KeepsML, Share: shares[i]})
	}
	return one, nil
}

// plainBarrels makes an injector of each --barrel: as many barrels as colours.
func (f *sizeFlags) plainBarrels(share float64) ([]layout.Injector, error) {
	keeps, err := units.ParseVolume(f.keeps)
	if err != nil {
		return nil, usageError{"--keeps: " + err.Error()}
	}
	var list []layout.Injector
	for _, text := range f.barrels {
		v, err := parseBarrel(text)
		if err != nil {
			return nil, usageError{"--barrel: " + err.Error()}
		}
		in := layout.Injector{Name: fmt.Sprintf("%.0f mL", v)}
		for i := range f.colours {
			b := layout.Barrel{Name: "barrel", HoldsML: v, KeepsML: keeps.ML(), Share: 1}
			if f.colours == 2 {
				b.Name, b.Share = [2]string{"left", "right"}[i], [2]float64{share, 1 - share}[i]
			}
			in.Barrels = append(in.Barrels, b)
		}
		list = append(list, in)
	}
	return list, nil
}

// parseBarrel reads a volume; a plain number is mL.
func parseBarrel(text string) (float64, error) {
	if x, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
		if !(x > 0) || math.IsInf(x, 0) {
			return 0, fmt.Errorf("%q holds nothing; give mL, like 120", text)
		}
		return x, nil
	}
	v, err := units.ParseVolume(text)
	return v.ML(), err
}

// parseCounts reads "2,4,8".
func parseCounts(text string) ([]int, error) {
	var list []int
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(text) == "" {
			break
		}
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 {
			return nil, usagef("--compare %q is not a list of numbers of cavities, like 2,4,8", text)
		}
		list = append(list, n)
	}
	return list, nil
}
