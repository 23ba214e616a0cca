package main

import (
	"math"
	"strings"
	"time"

	"bellyline/cavity/cool"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
)

// coolFlags say how hot, into what, and what the shop knows.
type coolFlags struct {
	model            *modelFlags
	melt, mold, open string
	diffusivity      float64
	contact          float64
	grid             float64
	opensAfter, like string
	block            blockFlags
}

// blockFlags say what mold warms.
type blockFlags struct {
	mass, runner, between, air string
	baits, shots               int
	loss                       float64
}

// Editable defaults. The temperatures, the time between shots and the loss to the
// air are common practice, no source.
const (
	defaultMelt    = "170C"
	defaultMold    = "40C"
	defaultOpen    = "60C"
	defaultBetween = "45s"
	defaultAir     = "21C"
	// Aluminium 6061: 0.896 J/(g K), 2.70 g/mL (data sheets).
	aluminiumJPerGC = 0.896
	aluminiumGML    = 2.70
	// Still air and radiation take 10 to 20 W/(m2 K), from memory.
	airWPerM2C = 15
	// Hot soft vinyl: 1600 to 2000 J/(kg K), unverified, at a density near 1 g/mL.
	plasticJMLC = 1.8
)

// widestContactMM of plastic resist as much as a gap that no pour leaves.
const widestContactMM = 5

func coolCommand() command {
	return command{
		name:    "cool",
		summary: "how long a bait stays in the mold until it has set",
		usage:   "cool MODEL [flags]",
		examples: []string{
			"cool examples/ringgrub/bait.stl --melt 340F --mold 100F --open 140F",
			"cool bait.stl --opens-after 90s                  fitted to what the shop found",
			"cool new.stl --like old.stl --opens-after 90s    the same for another bait",
			"cool bait.stl --block '1.2 kg' --baits 2         as the mold warms",
		},
		prepare: func(c *call) func([]string) error {
			f := &coolFlags{model: addModelFlags(c)}
			f.declare(c)
			return func(names []string) error { return runCool(c, f, names) }
		},
	}
}

func (f *coolFlags) declare(c *call) {
	c.flags.StringVar(&f.melt, "melt", defaultMelt, "`TEMPERATURE` of the plastic when it fills the mold, with its letter")
	c.flags.StringVar(&f.mold, "mold", defaultMold, "`TEMPERATURE` of the mold at the first shot")
	c.flags.StringVar(&f.open, "open", defaultOpen, "`TEMPERATURE` below which the hottest place must be when the mold is opened")
	c.flags.Float64Var(&f.diffusivity, "diffusivity", cool.DefaultDiffusivity, "diffusivity of the plastic in `MM2/S`; soft vinyl has 0.08 to 0.11; --opens-after finds yours")
	c.flags.Float64Var(&f.contact, "contact", 0, "what the contact between bait and mold resists, as `MM` of plastic that resists as much: 0.02 to 0.2 in metal")
	c.flags.Float64Var(&f.grid, "grid", 0, "pitch of the grid in `MM`; without it: 16.5 cells from the thickest place to the wall")
	c.flags.StringVar(&f.opensAfter, "opens-after", "", "the shop knows that this bait can be opened after `TIME`, like 90s: the diffusivity is made to fit")
	c.flags.StringVar(&f.like, "like", "", "`MODEL` of another bait, in the same mold and plastic, that --opens-after is known for")
	b := &f.block
	c.flags.StringVar(&b.mass, "block", "", "the mold warms shot after shot: `MASS` of both halves, like 1.2 kg or 3 lb")
	c.flags.IntVar(&b.baits, "baits", 1, "how many `N` baits the block cools at once")
	c.flags.StringVar(&b.runner, "runner", "", "`VOLUME` of runner and sprue that the block cools as well")
	c.flags.StringVar(&b.between, "between", defaultBetween, "`TIME` from opening until the next shot is in")
	c.flags.StringVar(&b.air, "air", defaultAir, "`TEMPERATURE` of the air round the block")
	c.flags.Float64Var(&b.loss, "loss", 0, "what the block loses to the air in `W/K`; without it: from its mass, 15 W/(m2 K) over a cube's faces")
	c.flags.IntVar(&b.shots, "shots", cool.DefaultShots, "how many `N` shots are followed as the block warms")
}

func runCool(c *call, f *coolFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one model")
	}
	opts, err := f.model.options(c)
	if err != nil {
		return err
	}
	ask, err := f.ask(c)
	if err != nil {
		return err
	}
	if ask.Block, err = f.block.block(c); err != nil {
		return err
	}
	cooling := shop.Cooling{Model: shop.ModelAt(names[0]), Read: opts, Ask: ask}
	if f.like != "" {
		like := shop.ModelAt(f.like)
		cooling.Like = &like
	}
	result, err := shop.Cool(c.ctx, cooling)
	if err != nil {
		return err
	}
	return show.Result(c.out, c.json, result, show.CoolText)
}

func (f *coolFlags) ask(c *call) (cool.Ask, error) {
	a := cool.Ask{DiffusivityMM2S: f.diffusivity, ContactMM: f.contact, GridMM: f.grid, Shots: f.block.shots}
	melt, err := parseHeat("melt", f.melt)
	if err != nil {
		return a, err
	}
	a.MeltC = float64(melt)
	for _, t := range []struct {
		flag, text string
		to         *float64
	}{{"mold", f.mold, &a.MoldC}, {"open", f.open, &a.OpenC}} {
		v, err := units.ParseTemperature(t.text)
		if err != nil {
			return a, usageError{"--" + t.flag + ": " + err.Error()}
		}
		*t.to = float64(v)
	}
	if err := checkDiffusivity(f.diffusivity); err != nil {
		return a, err
	}
	if f.contact > widestContactMM {
		return a, usagef("--contact %g: give at most %g mm of plastic; in metal it is 0.02 to 0.2", f.contact, float64(widestContactMM))
	}
	for _, x := range []struct {
		flag  string
		value float64
		none  bool
	}{{"contact", f.contact, true}, {"grid", f.grid, !c.flags.Changed("grid")}} {
		if !(x.value > 0 || x.none && x.value == 0) || math.IsInf(x.value, 0) {
			return a, usagef("--%s %g: give a number above zero", x.flag, x.value)
		}
	}
	if f.block.shots < 1 {
		return a, usagef("--shots %d: give a number from 1 on", f.block.shots)
	}
	if f.like != "" && f.opensAfter == "" {
		return a, usagef("--like needs --opens-after: how long that bait stays in the mold")
	}
	if c.flags.Changed("opens-after") {
		s, err := parseTime(f.opensAfter)
		if err != nil || !(s > 0) {
			return a, usagef("--opens-after %q is not a time, like 90s or 1m30s", f.opensAfter)
		}
		a.OpensAfterS = s
	}
	return a, nil
}

// parseTime reads "90s", "1m30s", "2 min" into seconds.
func parseTime(text string) (float64, error) {
	text = strings.ReplaceAll(strings.ToLower(text), " ", "")
	text = strings.NewReplacer("minutes", "m", "minute", "m", "min", "m", "seconds", "s", "second", "s", "sec", "s").Replace(text)
	d, err := time.ParseDuration(text)
	return d.Seconds(), err
}

// blockFlagNames mean nothing without --block.
var blockFlagNames = [...]string{"baits", "runner", "between", "air", "loss", "shots"}

// block returns the mold that warms, nil without one.
func (f blockFlags) block(c *call) (*cool.Block, error) {
	if !c.flags.Changed("block") {
		for _, name := range blockFlagNames {
			if c.flags.Changed(name) {
				return nil, usagef("--%s does nothing without --block", name)
			}
		}
		return nil, nil
	}
	b := &cool.Block{HeatJPerGC: aluminiumJPerGC, LossWPerC: f.loss, Baits: f.baits, PlasticJMLC: plasticJMLC}
	mass, err := units.ParseMass(f.mass)
	if err != nil || !(mass > 0) {
		return nil, usagef("--block %q is not a mass, like 1.2 kg or 3 lb", f.mass)
	}
	b.MassG = mass.G()
	if f.runner != "" {
		v, err := units.ParseVolume(f.runner)
		if err != nil {
			return nil, usageError{"--runner: " + err.Error()}
		}
		b.ExtraML = v.ML()
	}
	if b.BetweenS, err = parseTime(f.between); err != nil || b.BetweenS < 0 {
		return nil, usagef("--between %q is not a time, like 40s", f.between)
	}
	air, err := units.ParseTemperature(f.air)
	if err != nil {
		return nil, usageError{"--air: " + err.Error()}
	}
	b.AirC = float64(air)
	switch {
	case f.baits < 1:
		return nil, usagef("--baits %d: give a number from 1 on", f.baits)
	case c.flags.Changed("loss") && !(f.loss >= 0):
		return nil, usagef("--loss %g: give W/K, like 0.8", f.loss)
	case !c.flags.Changed("loss"):
		side := math.Cbrt(b.MassG / aluminiumGML) // cm
		b.LossWPerC = airWPerM2C * 6 * side * side * 1e-4
	}
	return b, nil
}
