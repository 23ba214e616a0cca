package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
	"bellyline/laminate/stream"
	"bellyline/mesh/stl"
	"bellyline/mesh/vector"
)

type streamFlags struct {
	unit           string
	mend           *mendFlags
	back, nose     string
	gate           string
	path           string
	feed           string
	ratio          float64
	backHeat       string
	bellyHeat      string
	ladle          string
	activation     string
	hand           bool
	at             string
	stations       int
	cells          int
	least          string
	runner         []string
	cavities       int
	push, bore     string
	pressure, flow string
	viscosity      float64
	svg            string
	mold, gel      string
}

func streamCommand() command {
	return command{
		name:    "stream",
		summary: "where the colour line lands: two streams, two viscosities, along the bait",
		usage:   "stream MODEL [flags]",
		examples: []string{
			"stream examples/paddletail/bait.stl",
			"stream bait.stl --back-feed 60% --back-heat 165C --belly-heat 175C",
			"stream bait.stl --back-heat 330F --belly-heat 345F --ladle '12 s at 330F, 10 s at 350F'",
			"stream bait.stl --push '20 kg' --bore '1 1/4 in' --runner '8 mm x 60 mm'",
		},
		prepare: func(c *call) func([]string) error {
			f := &streamFlags{}
			f.declare(c)
			return func(names []string) error { return runStream(c, f, names) }
		},
	}
}

func (f *streamFlags) declare(c *call) {
	s := c.flags
	s.StringVar(&f.feed, "back-feed", "50%", "`SHARE` of the back in what the barrels deliver: 40% or 0.4")
	s.Float64Var(&f.ratio, "viscosity-ratio", 1, "the back is so many `TIMES` as viscous as the belly; temperatures give it too")
	s.StringVar(&f.backHeat, "back-heat", "", "`TEMPERATURE` of the back as it is shot, like 330F or 165C")
	s.StringVar(&f.bellyHeat, "belly-heat", "", "`TEMPERATURE` of the belly")
	s.StringVar(&f.ladle, "ladle", "", "two emptying `TIMES` of one small-holed ladle, as in the example; instead of --activation")
	s.StringVar(&f.activation, "activation", "", "activation energy in `KJ/MOL`, like 40, or 30-60 (default 40, from 19 to 80)")
	s.BoolVar(&f.hand, "hand", false, "each plunger is pushed by hand, so the thinner colour runs faster too; --back-feed is the share at equal viscosities")
	s.StringVar(&f.at, "at", "", "height `H` of the drawn line in mm, along --back, as the model has it (default: where the volumes put it)")
	s.StringVar(&f.back, "back", "+z", "`DIRECTION` from belly to back: +x -x +y -y +z -z or x,y,z")
	s.StringVar(&f.nose, "nose", "+x", "`DIRECTION` from tail to nose")
	s.StringVar(&f.gate, "gate", "nose", "`END` at which the plastic comes in: nose or tail")
	s.StringVar(&f.path, "path", "", "the way of the flow by `POINTS` from the gate on, in mm as the model has them: '90,0,0; 40,0,0; 20,12,0'; instead of straight along --nose")
	s.StringArrayVar(&f.runner, "runner", nil, "`SIZE` of a part of the runner: diameter x length, or width x depth x length, in mm; again and again")
	s.IntVar(&f.cavities, "cavities", 1, "`N` cavities that share the runner")
	s.StringVar(&f.push, "push", "", "`FORCE` on both plungers together as a bathroom scale shows it: 20 kg, 45 lb; needs --bore")
	s.StringVar(&f.bore, "bore", "", "`BORE` of each of the two barrels: 32 mm (default for plungers that start unequal: 1 1/4 in)")
	s.StringVar(&f.pressure, "pressure", "", "`PRESSURE` at the injector instead of a push: 2 bar, 30 psi, 200 kPa")
	s.StringVar(&f.flow, "flow", "", "flow in `ML/S` instead of a push, both colours together")
	s.Float64Var(&f.viscosity, "viscosity", 0, "viscosity of the hot melt in `PA-S`, if you know it (default: about 1, from 0.2 to 10)")
	s.StringVar(&f.mold, "mold", "40C", "`TEMPERATURE` of the mold")
	s.StringVar(&f.gel, "sets", "100C", "`TEMPERATURE` at which the melt stops to flow")
	s.StringVar(&f.least, "least", "0.5 mm", "a colour thinner than this `LENGTH` is lost")
	s.IntVar(&f.stations, "stations", 60, "`N` sections along the bait")
	s.IntVar(&f.cells, "cells", 32, "`N` cells of the grid across the largest circle in a section")
	s.StringVar(&f.svg, "svg", "", "`FILE` for a picture: side view, line and band, three sections")
	s.StringVar(&f.unit, "unit", "mm", "one `UNIT` of the model: mm, cm, in or m; STL does not say")
	f.mend = addMendFlags(c)
}

func runStream(c *call, f *streamFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one model")
	}
	unit, err := stl.ParseUnit(f.unit)
	if err != nil {
		return usageError{"--unit: " + err.Error()}
	}
	back, nose, err := parseDirections(f.back, f.nose)
	if err != nil {
		return err
	}
	mend, err := f.mend.options(c)
	if err != nil {
		return err
	}
	if c.flags.Changed("svg") && f.svg == "" {
		return usagef("--svg needs a name")
	}
	cond, err := f.conditions(c)
	if err != nil {
		return err
	}
	bait, err := shop.ModelAt(names[0]).Bait(c.ctx, cavity.Options{Unit: unit, Mend: mend, Progress: c.progress.update}, back, nose)
	if err != nil {
		return err
	}
	result, err := stream.Run(c.ctx, bait, cond)
	if err != nil {
		return err
	}
	if f.svg != "" {
		if err := shop.SaveFile(c.ctx, f.svg, func(w io.Writer) error { return svg.Stream(w, result) }); err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, result, show.StreamText)
}

// conditions reads the flags that say how the bait is shot.
func (f *streamFlags) conditions(c *call) (stream.Conditions, error) {
	cond := stream.Conditions{Stations: f.stations, Cavities: f.cavities, Hand: f.hand, Grid: stream.Options{CellsAcross: f.cells}}
	var err error
	if cond.BackFeed, err = units.ParseShare(f.feed); err != nil {
		return cond, usageError{"--back-feed: " + err.Error()}
	}
	if cond.BackFeed < 0.001 || cond.BackFeed > 0.999 {
		return cond, usagef("--back-feed %s leaves nothing for one colour", f.feed)
	}
	switch f.gate {
	case "nose":
	case "tail":
		cond.FromTail = true
	default:
		return cond, usagef("--gate %q is not nose or tail", f.gate)
	}
	if cond.Path, err = parsePath(f.path); err != nil {
		return cond, err
	}
	if f.path != "" && c.flags.Changed("gate") {
		return cond, usagef("takes only one of --path and --gate: a path begins at the gate")
	}
	if f.stations < 1 || f.stations > 1000 {
		return cond, usagef("--stations %d: give a number from 1 to 1000", f.stations)
	}
	if f.cells < 8 || f.cells > 256 {
		return cond, usagef("--cells %d: give a number from 8 to 256", f.cells)
	}
	if f.cavities < 1 || f.cavities > 10_000 {
		return cond, usagef("--cavities %d: give a number from 1 to 10000", f.cavities)
	}
	least, err := units.ParseLength(f.least)
	if err != nil || least <= 0 {
		return cond, usagef("--least %q is not a length like 0.5 mm", f.least)
	}
	cond.LeastMM = least.MM()
	if c.flags.Changed("bore") {
		bore, err := units.ParseLength(f.bore)
		if err != nil || !(bore >= 1 && bore <= 1000) {
			return cond, usagef("--bore %q is not a bore like '1 1/4 in' or '32 mm'", f.bore)
		}
		cond.BoreMM = bore.MM()
	}
	if f.at != "" {
		h, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(f.at, "mm")), 64)
		if err != nil || math.IsNaN(h) || math.Abs(h) > farthestMM {
			return cond, usagef("--at %q is not a height in mm, like 2.5", f.at)
		}
		cond.DrawnMM = &h
	}
	if err := f.heat(c, &cond); err != nil {
		return cond, err
	}
	if err := f.ducts(&cond); err != nil {
		return cond, err
	}
	return cond, f.drive(c, &cond)
}

// parsePath reads "90,0,0; 40,0,0".
func parsePath(text string) ([]r3.Vector, error) {
	if text == "" {
		return nil, nil
	}
	var path []r3.Vector
	for point := range strings.SplitSeq(text, ";") {
		var xyz []float64
		for number := range strings.SplitSeq(point, ",") {
			x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			if err != nil || math.IsNaN(x) || math.Abs(x) > 1e6 {
				return nil, usagef("--path: %q is not a point like 40,0,0", strings.TrimSpace(point))
			}
			xyz = append(xyz, x)
		}
		if len(xyz) != 3 {
			return nil, usagef("--path: %q is not a point like 40,0,0", strings.TrimSpace(point))
		}
		path = append(path, vector.Of([3]float64(xyz)))
	}
	if len(path) < 2 {
		return nil, usagef("--path needs two points or more, like '90,0,0; 40,0,0'")
	}
	return path, nil
}

// heat turns temperatures into a ratio of viscosities.
func (f *streamFlags) heat(c *call, cond *stream.Conditions) error {
	cond.Activation = stream.DefaultActivation()
	given := c.flags.Changed
	switch {
	case given("ladle") && given("activation"):
		return usagef("takes only one of --ladle and --activation")
	case given("ladle"):
		one, two, err := parseLadle(f.ladle)
		if err != nil {
			return err
		}
		if cond.Activation, err = stream.FromEmptying(one, two); err != nil {
			return usageError{"--ladle: " + err.Error()}
		}
	case given("activation"):
		a, err := parseActivation(f.activation)
		if err != nil {
			return err
		}
		cond.Activation = a
	}
	if given("back-heat") != given("belly-heat") {
		return usagef("needs both --back-heat and --belly-heat, or neither")
	}
	if !given("back-heat") {
		if (given("ladle") || given("activation")) && given("viscosity-ratio") {
			return usagef("--viscosity-ratio needs no --ladle and no --activation")
		}
		if !(f.ratio >= 0.001 && f.ratio <= 1000) {
			return usagef("--viscosity-ratio %g: give a number from 0.001 to 1000", f.ratio)
		}
		cond.Ratio = stream.Ratio{Back: f.ratio, Low: f.ratio, High: f.ratio}
		return f.pushByHand(cond)
	}
	if given("viscosity-ratio") {
		return usagef("takes only one of --viscosity-ratio and the two temperatures")
	}
	back, err := parseHeat("back-heat", f.backHeat)
	if err != nil {
		return err
	}
	belly, err := parseHeat("belly-heat", f.bellyHeat)
	if err != nil {
		return err
	}
	if cond.Ratio, err = cond.Activation.RatioAt(float64(back), float64(belly)); err != nil {
		return usageError{err.Error()}
	}
	cond.MeltC = float64(max(back, belly))
	return f.pushByHand(cond)
}

func (f *streamFlags) pushByHand(cond *stream.Conditions) error {
	if f.hand {
		cond.BackFeed = stream.PushedFeed(cond.BackFeed, cond.Ratio.Back, 1)
		if cond.BackFeed < 0.001 || cond.BackFeed > 0.999 {
			return usagef("--hand: at this ratio of viscosities one colour hardly flows")
		}
	}
	return nil
}

// parseLadle reads "12.5 s at 165C, 10.9 s at 175C".
func parseLadle(text string) (one, two stream.Emptying, err error) {
	parts := strings.Split(text, ",")
	var runs []stream.Emptying
	for _, part := range parts {
		seconds, heat, ok := strings.Cut(part, "at")
		s, errS := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(seconds), "s")), 64)
		t, errT := units.ParseTemperature(heat)
		if !ok || errS != nil || errT != nil || !(s > 0) || math.IsInf(s, 0) {
			return one, two, usagef("--ladle %q: write it like '12.5 s at 165C, 10.9 s at 175C'", text)
		}
		if fault := heatFault(t); fault != "" {
			return one, two, usagef("--ladle: %s", fault)
		}
		runs = append(runs, stream.Emptying{Seconds: s, C: float64(t)})
	}
	if len(runs) != 2 {
		return one, two, usagef("--ladle needs two times, like '12.5 s at 165C, 10.9 s at 175C'")
	}
	return runs[0], runs[1], nil
}

// parseActivation reads "40" or "30-60", in kJ/mol.
func parseActivation(text string) (stream.Activation, error) {
	low, high, isBand := strings.Cut(text, "-")
	if !isBand {
		high = low
	}
	a, errA := strconv.ParseFloat(strings.TrimSpace(low), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(high), 64)
	if errA != nil || errB != nil || !(a >= 0 && a <= b && b <= 500) {
		return stream.Activation{}, usagef("--activation %q is not an energy in kJ/mol, like 40 or 30-60", text)
	}
	return stream.Activation{J: (a + b) / 2 * 1000, LowJ: a * 1000, HighJ: b * 1000}, nil
}

// ducts reads the parts of the runner.
func (f *streamFlags) ducts(cond *stream.Conditions) error {
	for i, text := range f.runner {
		var mm []float64
		for part := range strings.SplitSeq(strings.ToLower(text), "x") {
			part = strings.TrimSpace(part)
			if _, err := strconv.ParseFloat(part, 64); err == nil {
				part += " mm"
			}
			l, err := units.ParseLength(part)
			if err != nil || l <= 0 || l > 10_000 {
				return usagef("--runner %q: write diameter x length, like '8 x 60', or width x depth x length, like '10 x 3 x 20', in mm", text)
			}
			mm = append(mm, l.MM())
		}
		d := stream.Duct{Name: fmt.Sprintf("runner part %d", i+1)}
		switch len(mm) {
		case 2:
			d.WidthMM, d.LengthMM = mm[0], mm[1]
		case 3:
			d.WidthMM, d.DepthMM, d.LengthMM = mm[0], mm[1], mm[2]
		default:
			return usagef("--runner %q: write diameter x length, like '8 x 60', or width x depth x length, like '10 x 3 x 20', in mm", text)
		}
		cond.Runner = append(cond.Runner, d)
	}
	return nil
}

// drive reads what pushes the shot.
func (f *streamFlags) drive(c *call, cond *stream.Conditions) error {
	ways := 0
	for _, flag := range []string{"push", "pressure", "flow"} {
		if c.flags.Changed(flag) {
			ways++
		}
	}
	switch {
	case ways > 1:
		return usagef("takes only one of --push, --pressure and --flow")
	case ways == 0:
		for _, flag := range []string{"viscosity", "mold", "sets"} {
			if c.flags.Changed(flag) {
				return usagef("--%s says nothing without --push, --pressure or --flow", flag)
			}
		}
		return nil
	}
	p := &stream.Push{ViscosityPaS: f.viscosity}
	if c.flags.Changed("viscosity") && !(f.viscosity > 0 && f.viscosity <= 1e5) {
		return usagef("--viscosity %g is not a viscosity in Pa s, like 1", f.viscosity)
	}
	mold, err := units.ParseTemperature(f.mold)
	if err != nil {
		return usageError{"--mold: " + err.Error()}
	}
	sets, err := units.ParseTemperature(f.gel)
	if err != nil {
		return usageError{"--sets: " + err.Error()}
	}
	melt := cond.MeltC
	if melt == 0 {
		melt = 170
	}
	if !(mold < sets && float64(sets) < melt) {
		return usagef("the mold (%v) must be colder than where the melt sets (%v), and that colder than the melt (%v)", mold, sets, units.Celsius(melt))
	}
	p.MoldC, p.GelC = float64(mold), float64(sets)
	cond.Push = p
	switch {
	case c.flags.Changed("push"):
		force, err := units.ParseMass(f.push)
		if err != nil || !(force > 0) {
			return usagef("--push %q is not a force like 20 kg or 45 lb", f.push)
		}
		if cond.BoreMM == 0 {
			return usagef("--push needs --bore, like '1 1/4 in' or '32 mm'")
		}
		const gravity = 9.80665 // m/s2, standard
		p.PressurePa = force.G() / 1000 * gravity / (2 * math.Pi / 4 * cond.BoreMM * cond.BoreMM * 1e-6)
	case c.flags.Changed("pressure"):
		if p.PressurePa, err = parsePressure(f.pressure); err != nil {
			return err
		}
	default:
		text := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(f.flow), "ml/s"))
		if p.FlowMLS, err = strconv.ParseFloat(text, 64); err != nil || !(p.FlowMLS > 0 && p.FlowMLS <= 1e5) {
			return usagef("--flow %q is not a flow in mL/s, like 10", f.flow)
		}
	}
	return nil
}

// pressureUnits in Pa (NIST SP 811, from memory).
var pressureUnits = []struct {
	word string
	pa   float64
}{{"bar", 1e5}, {"psi", 6894.757293}, {"mpa", 1e6}, {"kpa", 1e3}, {"pa", 1}}

func parsePressure(text string) (float64, error) {
	lower := strings.ToLower(strings.TrimSpace(text))
	for _, u := range pressureUnits {
		if number, ok := strings.CutSuffix(lower, u.word); ok {
			x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			if err == nil && x > 0 && x*u.pa <= 1e9 {
				return x * u.pa, nil
			}
			break
		}
	}
	return 0, usagef("--pressure %q is not a pressure like 2 bar, 30 psi or 200 kPa", text)
}
