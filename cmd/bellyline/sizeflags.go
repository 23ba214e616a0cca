package main

import (
	"bellyline/cavity/cool"
	"bellyline/cavity/layout"
	"bellyline/cmd/bellyline/files"
)

// sizeFlags say what a new mold is for.
type sizeFlags struct {
	model              *modelFlags
	shop               string
	injectors, barrels []string
	keeps, share       string
	colours, cavities  int
	compare            string
	back, nose, pull   string
	parting            int
	length, shrink     string
	largest            string
	between, refill    string
	melt, mold, open   string
	diffusivity        float64
	limits             layout.Limits
	expansion          float64
	price, labour      string
	practice           layout.Practice
	svg, save          string

	shopFile *files.Shop // nil without --shop
	given    []string    // keys of the shop file about new molds
}

func (f *sizeFlags) declare(c *call) {
	c.flags.StringVar(&f.shop, "shop", "", "shop `FILE` with injectors, prices, and how it cuts molds (new_mold); what a flag says goes before it")
	c.flags.StringArrayVar(&f.injectors, "injector", nil, "`NAME` of an injector of the shop file; again and again to compare, the first is sized for; without it and --barrel: all that fit the colours")
	c.flags.StringArrayVar(&f.barrels, "barrel", nil, "`VOLUME` that one barrel holds: 120 (mL), 4 fl oz; again and again for injectors to compare, the first is sized for")
	c.flags.StringVar(&f.keeps, "keeps", "4 mL", "`VOLUME` that stays in each barrel of --barrel")
	c.flags.IntVar(&f.colours, "colours", 1, "`N` colours shot at once, a barrel each: 1 or 2; without it: as many as the injector has barrels")
	c.flags.StringVar(&f.share, "belly-share", "50/50", "`SHARE` of belly to back as the barrels deliver it; ganged barrels of the shop file deliver by their bores")
	c.flags.IntVar(&f.cavities, "cavities", 0, "`N` cavities; without it: as many as barrel, block, stock and clamps allow")
	c.flags.StringVar(&f.compare, "compare", "", "`NUMBERS` of cavities to set beside it, like 2,4,8; without it: a half and a quarter as many")
	c.flags.StringVar(&f.back, "back", "+z", "`DIRECTION` from belly to back")
	c.flags.StringVar(&f.nose, "nose", "+x", "`DIRECTION` from tail to nose")
	c.flags.IntVar(&f.parting, "parting", 0, "`N`th parting of the list WHERE IT PARTS; without it: the first, which the least speaks against")
	c.flags.StringVar(&f.pull, "pull", "", "`DIRECTION` in which the mold is to part; it comes into the list and is taken")
	c.flags.StringVar(&f.length, "length", "", "`LENGTH` that the cold bait is to have, along its nose; without it: that of the model")
	c.flags.StringVar(&f.shrink, "shrink", "0%", "`SHARE` of its length that the bait loses, like 2.5%: the cavity is drawn larger by that")
	c.flags.StringVar(&f.largest, "largest", "", "`BLOCK` that the mill takes at most, like '200 x 150 mm'")
	c.flags.StringVar(&f.between, "between", defaultBetween, "`TIME` from opening until the next shot is in")
	c.flags.StringVar(&f.refill, "refill", "20s", "`TIME` to draw the barrels full")
	c.flags.StringVar(&f.melt, "melt", defaultMelt, "`TEMPERATURE` of the plastic when it fills the mold")
	c.flags.StringVar(&f.mold, "mold", defaultMold, "`TEMPERATURE` of the mold")
	c.flags.StringVar(&f.open, "open", defaultOpen, "`TEMPERATURE` below which the hottest place must be")
	c.flags.Float64Var(&f.diffusivity, "diffusivity", cool.DefaultDiffusivity, "diffusivity of the plastic in `MM2/S`, see bellyline cool")
	c.flags.Float64Var(&f.expansion, "expansion", 0.0006, "by volume, `PER DEGREE C`, of the plastic from room to mold")
	f.limits = layout.DefaultLimits()
	c.flags.Float64Var(&f.limits.FillMM, "least-fill", f.limits.FillMM, "thinner than so many `MM` does not fill")
	c.flags.Float64Var(&f.limits.PullMM, "least-pull", f.limits.PullMM, "thinner than so many `MM` tears at demolding")
	f.practice = layout.DefaultPractice()
	for _, p := range practiceFlags {
		c.flags.Float64Var(p.of(&f.practice), p.flag, *p.of(&f.practice), p.usage)
	}
	c.flags.StringVar(&f.price, "plastic-price", "", "price of plastisol, like `42/GAL`")
	c.flags.StringVar(&f.labour, "labour", "", "what an hour of work costs, like `18/H`")
	c.flags.StringVar(&f.svg, "svg", "", "draw the layout with its dimensions into `FILE`")
	c.flags.StringVar(&f.save, "save", "", "save mold file, bait, both halves and drawing into `FOLDER`")
}

// practiceFlags are the sizes of a mold that have a flag, by the key of the shop file
// under new_mold.
var practiceFlags = [...]struct {
	flag, key string
	of        func(*layout.Practice) *float64
	usage     string
}{
	{"spacing", "spacing", func(p *layout.Practice) *float64 { return &p.SpacingMM }, "`MM` between cavities"},
	{"edge", "edge", func(p *layout.Practice) *float64 { return &p.EdgeMM }, "`MM` from a cavity to the edge of the block"},
	{"floor", "floor", func(p *layout.Practice) *float64 { return &p.FloorMM }, "`MM` of metal behind a cavity"},
	{"gate", "gate", func(p *layout.Practice) *float64 { return &p.GateMM }, "bore of the gate in `MM`"},
	{"land", "land", func(p *layout.Practice) *float64 { return &p.LandMM }, "length of a gate in `MM`"},
	{"thin-tip", "thin_tip", func(p *layout.Practice) *float64 { return &p.ThinTipMM }, "a tip thinner than so many `MM` gets a vent of its own"},
	{"long-per-one", "long_per_one", func(p *layout.Practice) *float64 { return &p.LongPerOne }, "the block is at most so many `TIMES` as long, along the runner, as wide"},
	{"metal-price", "stock", func(p *layout.Practice) *float64 { return &p.Stock.PerKg }, "price of the block's metal for a `KG`"},
}
