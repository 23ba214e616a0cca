package files

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"bellyline/cavity"
	"bellyline/cavity/layout"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// goodShop and goodMold are invented, and read without an error. The tables of
// bad files change one place of them; their line numbers count from here.
const goodShop = `shop: test shop
money: dollars
room: 68F
apart: 9F
fed: 60 %
materials:
  soft:
    density: 1.02
    expansion: 0.0006
    pour: 340F
    ceiling: 375F
    price: 42 / gal
  tough: {density: 8.5 lb/gal, expansion: 0.0005, pour: 175C, ceiling: 190C}
additives:
  salt:
    loose: 1.2 g/mL
    true: 2.16
    when: before heating
    price: 1.50 / lb
  flake: {loose: 0.35, true: 1.38, when: after}
  green: {true: 1.05, drop: 0.04 mL, when: before}
injectors:
  twin:
    drive: ganged
    barrels:
      left: {bore: 1 1/4 in, holds: 6 fl oz, keeps: 4 mL}
      right: {bore: 32 mm, holds: 180 mL}
  single:
    barrels: {barrel: {holds: 8 fl oz}}
vessels:
  quart cup: {holds: 4 cups, fill: 40 %, keeps: 8 mL}
  pint cup: {holds: 2 cups}
`

const goodMold = `shop: shop.yaml
bait: 4 in paddle tail
mold: twin swimmer
model: bait.stl
unit: in
back: +y
nose: -x
cavities: 2
feed:
  plug: {volume: 1.5 mL}
  sprue: {length: 20 mm, diameter: 6 mm, to: 8 mm}
  runner: {length: 60 mm, width: 6 mm, depth: 5 mm, count: 2}
  gates: {model: gate.stl, count: 2}
injector: twin
vessel: quart cup
line: {belly_share: 40/60}
colours:
  - name: belly
    material: soft
    barrel: right
    half: plain half
    mix:
      salt: 1/8 cup
      green: 6 drops
  - {name: back, material: tough, barrel: left, half: marked half, mix: {flake: 1/4 tsp}}
order: 40
`

// folder writes files into a folder of the test.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// replaceOnce changes the one place of a text that says old.
func replaceOnce(t testing.TB, text, old, by string) string {
	t.Helper()
	if n := strings.Count(text, old); n != 1 {
		t.Fatalf("%q stands %d times in the good file", old, n)
	}
	return strings.Replace(text, old, by, 1)
}

// Published sizes of units: see the tests of cavity/units.
const (
	inchMM = 25.4
	cupML  = 236.5882365
	gallon = 3785.411784
	pound  = 453.59237
	flozML = cupML / 8
	tspML  = cupML / 48
)

func fahrenheit(f float64) units.Celsius { return units.Celsius((f - 32) * 5 / 9) }

// wantShop is goodShop, worked out by hand.
func wantShop(dir string) *Shop {
	room := units.Celsius(20) // 68F
	return &Shop{
		File: filepath.Join(dir, "shop.yaml"), Name: "test shop", Money: "dollars", Fed: 0.6, FedGiven: true, ApartC: 5,
		Materials: map[string]cavity.Plastisol{
			"soft":  {Name: "soft", DensityGML: 1.02, ExpansionPerC: 0.0006, Room: room, Pour: fahrenheit(340), Ceiling: fahrenheit(375), PricePerML: 42 / gallon},
			"tough": {Name: "tough", DensityGML: 8.5 * pound / gallon, ExpansionPerC: 0.0005, Room: room, Pour: 175, Ceiling: 190},
		},
		Additives: map[string]cavity.Additive{
			"salt":  {Name: "salt", LooseGML: 1.2, TrueGML: 2.16, When: cavity.BeforeHeating, PricePerGram: 1.5 / pound},
			"flake": {Name: "flake", LooseGML: 0.35, TrueGML: 1.38, When: cavity.AfterHeating},
			"green": {Name: "green", TrueGML: 1.05, DropML: 0.04, When: cavity.BeforeHeating},
		},
		Injectors: map[string]laminate.Injector{
			"twin":   {Name: "twin", Drive: laminate.Ganged, Barrels: []laminate.Barrel{leftBarrel, rightBarrel}},
			"single": {Name: "single", Drive: laminate.Independent, Barrels: []laminate.Barrel{{Name: "barrel", CapacityML: 8 * flozML}}},
		},
		Vessels: map[string]laminate.Vessel{
			"quart cup": quartCup,
			"pint cup":  {Name: "pint cup", HoldsML: 2 * cupML, Fill: 0.5},
		},
		// Nothing is said of the bench: the defaults, as the constants state them.
		Bench:   Bench{ShotS: 30, RefillS: 20, HeatSPerML: 150 / cupML, WarmUp: 1, Reheats: 3, RoomC: 20},
		NewMold: NewMold{Practice: layout.DefaultPractice()},
	}
}

var (
	leftBarrel  = laminate.Barrel{Name: "left", BoreMM: 1.25 * inchMM, CapacityML: 6 * flozML, KeepsML: 4}
	rightBarrel = laminate.Barrel{Name: "right", BoreMM: 32, CapacityML: 180}
	quartCup    = laminate.Vessel{Name: "quart cup", HoldsML: 4 * cupML, Fill: 0.4, KeepsML: 8}
)

// wantMold is goodMold, worked out by hand.
func wantMold(dir string) *Mold {
	shop := wantShop(dir)
	channel := func(name string, count int, ml float64, source string) Channel {
		return Channel{Channel: cavity.Channel{Name: name, Count: count, VolumeML: ml, Source: source}}
	}
	gates := channel("gates", 2, 0, "model gate.stl")
	gates.Model = &Model{Path: filepath.Join(dir, "gate.stl"), Unit: 1}
	dose := func(additive string, kind units.AmountKind, value float64) cavity.Dose {
		return cavity.Dose{Additive: shop.Additives[additive], PerCup: units.Amount{Kind: kind, Value: value}}
	}
	return &Mold{
		File: filepath.Join(dir, "mold.yaml"), Shop: shop,
		Bait: "4 in paddle tail", Name: "twin swimmer", Cavities: 2, Fed: 0.6, FedGiven: true, Baits: 40, WaterC: 20,
		Model: &Model{Path: filepath.Join(dir, "bait.stl"), Unit: inchMM, Back: r3.Vector{Y: 1}, Nose: r3.Vector{X: -1}},
		Feed: []Channel{
			channel("plug", 1, 1.5, "as given"),
			channel("sprue", 1, math.Pi*20*(9+12+16)/3/1000, "by its sizes"), // a frustum, radii 3 and 4 mm
			channel("runner", 2, 1.8, "by its sizes"),                        // 60 x 6 x 5 mm
			gates,
		},
		Lines: []laminate.Line{{Boundary: laminate.Level{}, Share: 0.4}},
		Colours: []laminate.Colour{
			{Name: "belly", Half: "plain half", Mix: cavity.Mix{Plastisol: shop.Materials["soft"],
				Doses: []cavity.Dose{dose("salt", units.ByVolume, cupML/8), dose("green", units.ByDrops, 6)}}},
			{Name: "back", Half: "marked half", Mix: cavity.Mix{Plastisol: shop.Materials["tough"],
				Doses: []cavity.Dose{dose("flake", units.ByVolume, tspML/4)}}},
		},
		Injector: laminate.Injector{Name: "twin", Drive: laminate.Ganged, Barrels: []laminate.Barrel{rightBarrel, leftBarrel}},
		Vessel:   quartCup,
	}
}

// nearly lets the last bits of a conversion differ.
var nearly = cmpopts.EquateApprox(1e-13, 0)

func TestGoodFiles(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": goodMold})
	shop, err := ReadShop(filepath.Join(dir, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wantShop(dir), shop, nearly); diff != "" {
		t.Errorf("shop file, - wanted, + read:\n%s", diff)
	}
	mold, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wantMold(dir), mold, nearly); diff != "" {
		t.Errorf("mold file, - wanted, + read:\n%s", diff)
	}
}

// A bait that was only weighed, of one colour.
func TestGoodWeighedMold(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": `
shop: shop.yaml
bait: 5 in stick
mold: four sticks
weighed: 1/2 oz
cavities: 4
fed: 0.25
feed: {trimmings: {weighed: 12 g}}
injector: single
vessel: pint cup
colours: [{name: plain, material: soft}]
`})
	got, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	shop := wantShop(dir)
	want := &Mold{
		File: filepath.Join(dir, "mold.yaml"), Shop: shop, Bait: "5 in stick", Name: "four sticks",
		Weighed: pound / 32, Cavities: 4, Fed: 0.25, FedGiven: true, WaterC: 20,
		Feed:     []Channel{{Channel: cavity.Channel{Name: "trimmings", Count: 1, MassG: 12, Source: "weighed"}}},
		Colours:  []laminate.Colour{{Name: "plain", Mix: cavity.Mix{Plastisol: shop.Materials["soft"]}}},
		Injector: shop.Injectors["single"],
		Vessel:   shop.Vessels["pint cup"],
	}
	if diff := cmp.Diff(want, got, nearly); diff != "" {
		t.Errorf("- wanted, + read:\n%s", diff)
	}
}

// The defaults of what a shop may leave out, as the constants state them.
func TestShopDefaults(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": `
shop: bare
materials: {soft: {density: 1, expansion: 0, pour: 170C, ceiling: 190C}}
injectors: {single: {barrels: {barrel: {holds: 8 fl oz}}}}
vessels: {cup: {holds: 1 cup}}
`})
	got, err := ReadShop(filepath.Join(dir, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if got.FedGiven || got.Fed != 0.5 || got.ApartC != 5 || got.Materials["soft"].Room != 21 || got.Vessels["cup"].Fill != 0.5 {
		t.Errorf("%+v", got)
	}
}

func TestReadLine(t *testing.T) {
	points := []r2.Point{{X: -40, Y: -1}, {X: 25.4, Y: 2}}
	for text, want := range map[string]laminate.Line{
		"height: -2.5 mm":    {Boundary: laminate.Level{HeightMM: -2.5}, ByPlace: true},
		"height: −1/4 in":    {Boundary: laminate.Level{HeightMM: -6.35}, ByPlace: true}, // the sign of minus
		"height: +3 mm":      {Boundary: laminate.Level{HeightMM: 3}, ByPlace: true},
		"belly_share: 40 %":  {Boundary: laminate.Level{}, Share: 0.4},
		"{belly_share: 0.4}": {Boundary: laminate.Level{}, Share: 0.4},

		"{kind: level, belly_share: 0.4}":                                                                                   {Boundary: laminate.Level{}, Share: 0.4},
		"{kind: tilted, tilt: -5 deg, roll: 2.5°, height: 1 mm}":                                                            {Boundary: laminate.Tilted{TiltDeg: -5, RollDeg: 2.5, HeightMM: 1}, ByPlace: true},
		"{kind: tilted, hinge: {along: -40 mm, height: 1 mm}, belly_share: 40/60}":                                          {Boundary: laminate.Tilted{Hinge: &laminate.Hinge{AlongMM: -40, HeightMM: 1}}, Share: 0.4},
		"{kind: drawn, points: [{along: -40 mm, height: -1 mm}, {along: 1 in, height: 2 mm}]}":                              {Boundary: laminate.Drawn{Points: points}, ByPlace: true},
		"{kind: drawn, curve: smooth, raise: -1 mm, points: [{along: -40 mm, height: -1 mm}, {along: 1 in, height: 2 mm}]}": {Boundary: laminate.Drawn{Points: points, Smooth: true, RaiseMM: -1}, ByPlace: true},
		"{kind: drawn, belly_share: 30/70, points: [{along: -40 mm, height: -1 mm}, {along: 1 in, height: 2 mm}]}":          {Boundary: laminate.Drawn{Points: points}, Share: 0.3},
		"{kind: crosswise, at: 20 mm}":                                                                                      {Boundary: laminate.Crosswise{AlongMM: 20}, ByPlace: true},
		"{kind: crosswise, tail_share: 70/30}":                                                                              {Boundary: laminate.Crosswise{}, Share: 0.7},
		"{kind: stripe, width: 4 mm, floor: 3 mm, draft: 10 deg}":                                                           {Boundary: laminate.Stripe{WidthMM: 4, DraftDeg: 10, FloorMM: 3}, ByPlace: true},
		"{kind: stripe, width: 4 mm, across: -1 mm, body_share: 90/10}":                                                     {Boundary: laminate.Stripe{WidthMM: 4, AcrossMM: -1, DraftDeg: 5}, Share: 0.9},
		"{kind: core, depth: 3 mm, step: 0.25 mm}":                                                                          {Boundary: laminate.Core{StepMM: 0.25, DepthMM: 3}, ByPlace: true},
		"{kind: skin, skin_share: 60/40}":                                                                                   {Boundary: laminate.Skin{}, Share: 0.6},
	} {
		dir := folder(t, map[string]string{"line.yaml": text})
		got, err := ReadLine(filepath.Join(dir, "line.yaml"))
		if err != nil || cmp.Diff([]laminate.Line{want}, got, nearly) != "" {
			t.Errorf("%q is %+v (%v), want %+v", text, got, err, want)
		}
	}
	dir := folder(t, map[string]string{"line.yaml": "lines: [{belly_share: 20/80}, {kind: tilted, tilt: 2 deg, belly_share: 60/40}]"})
	got, err := ReadLine(filepath.Join(dir, "line.yaml"))
	want := []laminate.Line{{Boundary: laminate.Level{}, Share: 0.2}, {Boundary: laminate.Tilted{TiltDeg: 2}, Share: 0.6}}
	if err != nil || cmp.Diff(want, got, nearly) != "" {
		t.Errorf("layers are %+v (%v)", got, err)
	}
	// By shares in one key: each line has what all colours below it take.
	for text, want := range map[string][]laminate.Line{
		"shares: 20/50/30": {{Boundary: laminate.Level{}, Share: 0.2}, {Boundary: laminate.Level{}, Share: 0.7}},
		"shares: 40/60":    {{Boundary: laminate.Level{}, Share: 0.4}},
		"{kind: tilted, tilt: 2 deg, shares: 10/20/30/40}": {
			{Boundary: laminate.Tilted{TiltDeg: 2}, Share: 0.1}, {Boundary: laminate.Tilted{TiltDeg: 2}, Share: 0.3}, {Boundary: laminate.Tilted{TiltDeg: 2}, Share: 0.6}},
	} {
		dir := folder(t, map[string]string{"line.yaml": text})
		got, err := ReadLine(filepath.Join(dir, "line.yaml"))
		if err != nil || cmp.Diff(want, got, nearly) != "" {
			t.Errorf("%q is %+v (%v), want %+v", text, got, err, want)
		}
	}
}

// The same file as other editors and systems store it.
func TestStoredOtherwise(t *testing.T) {
	for name, change := range map[string]func(string) string{
		"with a byte order mark":  func(s string) string { return "\ufeff" + s },
		"with carriage returns":   func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		"after a document mark":   func(s string) string { return "---\n" + s },
		"after a directive":       func(s string) string { return "%YAML 1.2\n---\n" + s },
		"with an end mark":        func(s string) string { return s + "...\n" },
		"with comments and lines": func(s string) string { return "# by hand\n\n" + strings.ReplaceAll(s, "\n", " # so\n\n") },
	} {
		dir := folder(t, map[string]string{"shop.yaml": change(goodShop), "mold.yaml": change(goodMold)})
		got, err := ReadMold(filepath.Join(dir, "mold.yaml"))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(wantMold(dir), got, nearly); diff != "" {
			t.Errorf("%s: - wanted, + read:\n%s", name, diff)
		}
	}
}

// Names keep what can be printed, in keys as in values, and one spelling finds
// the other; a terminal's escapes and marks that turn the writing do not come through.
func TestNamesArePrintable(t *testing.T) {
	dir := folder(t, map[string]string{
		"shop.yaml": replaceOnce(t, goodShop, "  salt:", "  \"sa\x1b[31mlt\u202e\":"),
		"mold.yaml": replaceOnce(t, replaceOnce(t, goodMold, "salt: 1/8 cup", "\"sa\\e[31mlt\": 1/8 cup"), "bait: 4 in paddle tail", "bait: \"pad\\adle\\n\\ttail \\e]0;x\\a\""),
	})
	m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bait != "paddle tail ]0;x" || m.Colours[0].Mix.Doses[0].Additive.Name != "sa[31mlt" {
		t.Errorf("names %q and %q", m.Bait, m.Colours[0].Mix.Doses[0].Additive.Name)
	}
}

// A mold file may come from standard input; its shop file is then looked for from
// where the program runs, and a shop file of the name "-" is a file.
func TestMoldFromStandardInput(t *testing.T) {
	dir := folder(t, map[string]string{"-": goodShop, "mold.yaml": strings.Replace(goodMold, "shop.yaml", "'-'", 1)})
	t.Chdir(dir)
	in, err := os.Open("mold.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	stdin := os.Stdin
	os.Stdin = in
	defer func() { os.Stdin = stdin }()
	m, err := ReadMold("-")
	if err != nil {
		t.Fatal(err)
	}
	if m.File != "-" || m.Model.Path != "bait.stl" || m.Shop.Name != "test shop" {
		t.Errorf("%+v", m)
	}
}

// A long path is a path, not a name: nothing of it may go.
func TestLongPathStaysWhole(t *testing.T) {
	path := strings.Repeat("a folder, two  spaces/", 6) + "bait.stl"
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": replaceOnce(t, goodMold, "bait.stl", path)})
	m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if want := filepath.Join(dir, path); m.Model.Path != want {
		t.Errorf("the model is %q, want %q", m.Model.Path, want)
	}
}

// A trial of a quarter cup makes four times its spoons, grams and drops for a cup,
// and the same percentage. A third of a cup is no number of binary digits: the dose for
// 3 cups is 9 teaspoons all the same, to the last digit but one.
func TestTrialCupsAreScaled(t *testing.T) {
	mold := func(mix string) []cavity.Dose {
		dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": `
shop: shop.yaml
bait: stick
mold: sticks
weighed: 10 g
cavities: 4
feed: {trimmings: {weighed: 12 g}}
injector: single
vessel: pint cup
colours: [{name: plain, material: soft, ` + mix + `}]
`})
		m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		return m.Colours[0].Mix.Doses
	}
	trial := mold("mix_for: 1/4 cup, mix: {salt: 1/8 tsp, green: 3 drops, flake: 0.2 g}")
	whole := mold("mix: {salt: 1/2 tsp, green: 12 drops, flake: 0.8 g}")
	if diff := cmp.Diff(whole, trial, nearly); diff != "" {
		t.Errorf("- for a cup, + by its trial:\n%s", diff)
	}
	percent := mold("mix_for: 1/4 cup, mix: {salt: 2 %}")[0].PerCup
	if percent.Kind != units.ByPercent || percent.Value != 2 {
		t.Errorf("2 %% of a quarter cup is %v of a cup", percent)
	}
	third := mold("mix_for: 1/3 cup, mix: {salt: 1 tsp}")[0].PerCup.Times(3)
	if got := units.Volume(third.Value).Tsp(); math.Abs(got-9) > 1e-14 {
		t.Errorf("%.17g teaspoons, want 9", got)
	}
}
