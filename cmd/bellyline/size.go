package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/cool"
	"bellyline/cavity/layout"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
	"bellyline/laminate"
	"bellyline/mesh"
)

// sizeFlags say what a new mold is for.
type sizeFlags struct {
	model             *modelFlags
	barrels           []string
	keeps, share      string
	colours, cavities int
	back, nose, pull  string
	length, shrink    string
	largest, between  string
	melt, mold, open  string
	diffusivity       float64
	fill, pulled      float64
	expansion         float64
	metalPrice        float64
	price             string
	practice          layout.Practice
	svg, save         string
}

func sizeCommand() command {
	return command{
		name:    "size",
		summary: "a mold that is not cut yet: cavities, block, runner, gates, parting, time",
		usage:   "size MODEL --barrel VOLUME [flags]",
		examples: []string{
			"size examples/ringgrub/bait.stl --barrel 120 --colours 2",
			"size bait.stl --barrel '6 fl oz' --barrel '8 fl oz' --largest '200 x 150 mm'",
			"size bait.stl --barrel 120 --length '5 in' --shrink 2.5% --svg layout.svg --save newmold",
		},
		prepare: func(c *call) func([]string) error {
			f := &sizeFlags{model: addModelFlags(c), practice: layout.DefaultPractice()}
			f.declare(c)
			return func(names []string) error { return runSize(c, f, names) }
		},
	}
}

func (f *sizeFlags) declare(c *call) {
	c.flags.StringArrayVar(&f.barrels, "barrel", nil, "`VOLUME` that one barrel holds: 120 (mL), 4 fl oz; again and again for injectors to compare, the first is sized for")
	c.flags.StringVar(&f.keeps, "keeps", "4 mL", "`VOLUME` that stays in each barrel")
	c.flags.IntVar(&f.colours, "colours", 1, "`N` colours shot at once, a barrel each: 1 or 2")
	c.flags.StringVar(&f.share, "belly-share", "50/50", "`SHARE` of belly to back as the barrels deliver it: equal ganged barrels give 50/50")
	c.flags.IntVar(&f.cavities, "cavities", 0, "`N` cavities; without it: as many as barrel, block and stock allow")
	c.flags.StringVar(&f.back, "back", "+z", "`DIRECTION` from belly to back")
	c.flags.StringVar(&f.nose, "nose", "+x", "`DIRECTION` from tail to nose")
	c.flags.StringVar(&f.pull, "pull", "", "`DIRECTION` in which the mold parts; without it: the best of the candidates")
	c.flags.StringVar(&f.length, "length", "", "`LENGTH` that the cold bait is to have, along its nose; without it: that of the model")
	c.flags.StringVar(&f.shrink, "shrink", "0%", "`SHARE` of its length that the bait loses, like 2.5%: the cavity is drawn larger by that")
	c.flags.StringVar(&f.largest, "largest", "", "largest block that mill or stock allow, like '200 x 150 mm'")
	c.flags.StringVar(&f.between, "between", defaultBetween, "`TIME` from opening until the next shot is in")
	c.flags.StringVar(&f.melt, "melt", defaultMelt, "`TEMPERATURE` of the plastic when it fills the mold")
	c.flags.StringVar(&f.mold, "mold", defaultMold, "`TEMPERATURE` of the mold")
	c.flags.StringVar(&f.open, "open", defaultOpen, "`TEMPERATURE` below which the hottest place must be")
	c.flags.Float64Var(&f.diffusivity, "diffusivity", cool.DefaultDiffusivity, "diffusivity of the plastic in `MM2/S`, see bellyline cool")
	c.flags.Float64Var(&f.expansion, "expansion", 0.0006, "by volume, `PER DEGREE C`, of the plastic from room to mold")
	c.flags.Float64Var(&f.fill, "least-fill", layout.DefaultFillMM, "thinner than so many `MM` does not fill")
	c.flags.Float64Var(&f.pulled, "least-pull", layout.DefaultPullMM, "thinner than so many `MM` tears at demolding")
	p := &f.practice
	c.flags.Float64Var(&p.SpacingMM, "spacing", p.SpacingMM, "`MM` between cavities")
	c.flags.Float64Var(&p.EdgeMM, "edge", p.EdgeMM, "`MM` from a cavity to the edge of the block")
	c.flags.Float64Var(&p.FloorMM, "floor", p.FloorMM, "`MM` of metal behind a cavity")
	c.flags.Float64Var(&p.GateMM, "gate", p.GateMM, "bore of the gate in `MM`")
	c.flags.Float64Var(&p.LandMM, "land", p.LandMM, "length of a gate in `MM`")
	c.flags.Float64Var(&f.metalPrice, "metal-price", 0, "price of the block's metal for a `KG`")
	c.flags.StringVar(&f.price, "plastic-price", "", "price of plastisol, like `42/GAL`")
	c.flags.StringVar(&f.svg, "svg", "", "draw the layout with its dimensions into `FILE`")
	c.flags.StringVar(&f.save, "save", "", "save mold file, bait, both halves and drawing into `FOLDER`")
}

func runSize(c *call, f *sizeFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one model")
	}
	for flag, value := range map[string]string{"svg": f.svg, "save": f.save} {
		if c.flags.Changed(flag) && value == "" {
			return usagef("--%s needs a name", flag)
		}
	}
	ask, way, err := f.ask(c)
	if err != nil {
		return err
	}
	opts, err := f.model.options(c)
	if err != nil {
		return err
	}
	bait, err := cavity.Open(c.ctx, names[0], opts, way.back, way.nose)
	if err != nil {
		return err
	}
	job := &sizeJob{c: c, f: f, name: names[0], bait: bait, way: way, ask: ask}
	result, err := job.size()
	if err != nil {
		return sizeError(names[0], err)
	}
	if f.svg != "" {
		if err := saveFile(c.ctx, f.svg, func(w io.Writer) error { return svg.Layout(w, result) }); err != nil {
			return err
		}
	}
	if f.save != "" {
		if err := job.save(f.save, result); err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, result, show.SizeText)
}

// sizeError names the model where it is at fault.
func sizeError(name string, err error) error {
	if errors.Is(err, cool.ErrNever) || errors.Is(err, cool.ErrTemperature) {
		return err
	}
	return fmt.Errorf("%s: %w", name, err)
}

// directions of the model; pull is zero when it is to be found.
type directions struct{ back, nose, pull r3.Vector }

// sizeJob is one run.
type sizeJob struct {
	c    *call
	f    *sizeFlags
	name string
	bait *cavity.Cavity
	way  directions
	ask  layout.Ask

	model *mesh.Mesh // scaled
	laid  *layout.Bait
}

func (j *sizeJob) size() (*layout.Result, error) {
	ctx := j.c.ctx
	shrink, scale, err := j.scale()
	if err != nil {
		return nil, err
	}
	j.model = layout.Scaled(j.bait.Mesh, scale)
	thick, err := layout.FindThickness(ctx, j.model, j.f.fill, j.f.pulled)
	if err != nil {
		return nil, err
	}
	partings, err := layout.Partings(ctx, j.model, j.way.back, j.way.nose, j.ask.Colours, j.way.pull)
	if err != nil {
		return nil, err
	}
	if j.laid, err = layout.NewBait(j.model, j.bait.FillMM3*scale*scale*scale, partings[0], j.way.nose); err != nil {
		return nil, err
	}
	if j.ask.OpenAfterS, err = j.openAfter(scale); err != nil {
		return nil, err
	}
	best, setups, err := layout.Size(j.laid, j.ask)
	if err != nil {
		return nil, err
	}
	r := layout.NewResult(j.laid, best, setups, partings, thick, j.ask)
	r.File, r.OpenAfterS, r.Scale, r.Shrink, r.ShrinkVolume = j.name, &j.ask.OpenAfterS, scale, shrink, layout.VolumeShrink(shrink)
	low, high := j.model.Span(j.way.nose.Normalize())
	r.ColdMM = (high - low) * (1 - shrink)
	r.Warnings = append(append([]string{}, j.bait.Warnings...), r.Warnings...)
	return r, nil
}

// scale is by how much the model is drawn larger.
func (j *sizeJob) scale() (shrink, scale float64, err error) {
	if shrink, err = units.ParseShare(j.f.shrink); err != nil {
		return 0, 0, usageError{"--shrink: " + err.Error()}
	}
	if scale, err = layout.ScaleForShrink(shrink); err != nil {
		return 0, 0, err
	}
	if j.f.length != "" {
		want, err := units.ParseLength(j.f.length)
		if err != nil || !(want > 0) {
			return 0, 0, usagef("--length %q is not a length, like 5 in", j.f.length)
		}
		low, high := j.bait.Mesh.Span(j.way.nose.Normalize())
		scale *= want.MM() / (high - low)
	}
	return shrink, scale, nil
}

// openAfter is the setting time of the scaled bait: times go with the square of size.
func (j *sizeJob) openAfter(scale float64) (float64, error) {
	ask := cool.Ask{DiffusivityMM2S: j.f.diffusivity}
	for _, t := range []struct {
		flag, text string
		to         *float64
	}{{"melt", j.f.melt, &ask.MeltC}, {"mold", j.f.mold, &ask.MoldC}, {"open", j.f.open, &ask.OpenC}} {
		v, err := units.ParseTemperature(t.text)
		if err != nil {
			return 0, usageError{"--" + t.flag + ": " + err.Error()}
		}
		*t.to = float64(v)
	}
	body, err := cool.NewBody(j.c.ctx, j.bait.Mesh, j.bait.Overlaps())
	if err != nil {
		return 0, err
	}
	r, err := body.Cool(j.c.ctx, ask)
	if err != nil {
		return 0, err
	}
	return *r.TimeS * scale * scale, nil
}

// ask reads what the flags say.
func (f *sizeFlags) ask(c *call) (layout.Ask, directions, error) {
	a := layout.Ask{Colours: f.colours, Cavities: f.cavities, Fed: cavity.DefaultFed, MetalGML: aluminiumGML,
		PricePerKg: f.metalPrice, PressureMPa: handMPa, Practice: f.practice, BellyShare: 0.5}
	var way directions
	var err error
	for _, d := range []struct {
		flag, text string
		to         *r3.Vector
	}{{"back", f.back, &way.back}, {"nose", f.nose, &way.nose}, {"pull", f.pull, &way.pull}} {
		if d.text == "" && d.flag == "pull" {
			continue
		}
		if *d.to, err = mesh.ParseDirection(d.text); err != nil {
			return a, way, usageError{"--" + d.flag + ": " + err.Error()}
		}
	}
	if way.back.Cross(way.nose).Norm() < 0.42*way.back.Norm()*way.nose.Norm() {
		return a, way, usagef("--back and --nose lie along one line; the back is up, the nose is forward")
	}
	if len(f.barrels) == 0 {
		return a, way, usagef("needs --barrel: what one barrel of the injector holds, like 120 or '4 fl oz'")
	}
	for _, text := range f.barrels {
		v, err := parseBarrel(text)
		if err != nil {
			return a, way, usageError{"--barrel: " + err.Error()}
		}
		a.BarrelML = append(a.BarrelML, v)
	}
	keeps, err := units.ParseVolume(f.keeps)
	if err != nil {
		return a, way, usageError{"--keeps: " + err.Error()}
	}
	a.KeepsML = keeps.ML()
	if a.BellyShare, err = units.ParseShare(f.share); err != nil {
		return a, way, usageError{"--belly-share: " + err.Error()}
	}
	if a.BetweenS, err = parseTime(f.between); err != nil || a.BetweenS < 0 {
		return a, way, usagef("--between %q is not a time, like 40s", f.between)
	}
	if c.flags.Changed("cavities") && f.cavities < 1 {
		return a, way, usagef("--cavities %d: give a number from 1 on", f.cavities)
	}
	if f.largest != "" {
		if a.LargestMM, err = parseLargest(f.largest); err != nil {
			return a, way, err
		}
	}
	if f.price != "" {
		if a.PricePerML, err = parsePrice(f.price); err != nil {
			return a, way, err
		}
	}
	melt, err := units.ParseTemperature(f.melt)
	if err != nil {
		return a, way, usageError{"--melt: " + err.Error()}
	}
	const room = 21 // C, usual
	a.HotPerCold = 1 + f.expansion*(float64(melt)-room)
	return a, way, nil
}

// handMPa is the pressure of a hand on a plunger: 30 kg on a bore of 32 mm makes
// 0.37 MPa, of which half is left in the cavity. Common practice, no source.
const handMPa = 0.2

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

// parseLargest reads "200 x 150 mm" or "8 in x 6 in".
func parseLargest(text string) (size [2]float64, err error) {
	a, b, ok := strings.Cut(strings.ToLower(text), "x")
	unit := strings.TrimLeft(strings.TrimSpace(b), "0123456789./ ")
	if !strings.ContainsAny(a, "mci\"") {
		a += unit
	}
	for i, part := range [2]string{a, b} {
		v, err := units.ParseLength(part)
		if err != nil || !ok || !(v > 0) {
			return size, usagef("--largest %q is not a block, like '200 x 150 mm' or '8 x 6 in'", text)
		}
		size[i] = v.MM()
	}
	return size, nil
}

// parsePrice reads "42/gal" into money per mL.
func parsePrice(text string) (float64, error) {
	money, per, ok := strings.Cut(text, "/")
	x, err := strconv.ParseFloat(strings.TrimSpace(money), 64)
	v, errPer := units.ParseVolume("1 " + per)
	if err != nil || errPer != nil || !ok || !(x >= 0) || !(v > 0) {
		return 0, usagef("--plastic-price %q is not a price, like 42/gal", text)
	}
	return x / v.ML(), nil
}

// barrelsOf are the barrels of the injector that the mold was sized for.
func (j *sizeJob) barrelsOf() []laminate.Barrel {
	names := []string{"barrel"}
	if j.ask.Colours == 2 {
		names = []string{"left", "right"}
	}
	var list []laminate.Barrel
	for _, n := range names {
		list = append(list, laminate.Barrel{Name: n, CapacityML: j.ask.BarrelML[0], KeepsML: j.ask.KeepsML})
	}
	return list
}
