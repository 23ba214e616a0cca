package files

import (
	"path/filepath"
	"testing"
)

var badMolds = []bad{
	// keys
	{"unknown key at the top", "order: 40", "baits: 40",
		`mold.yaml:26: baits: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings`},
	{"key misspelt", "order: 40", "odrer: 40",
		`mold.yaml:26: odrer: unknown key; did you mean order?`},
	{"required key misspelt", "cavities:", "cavites:",
		`mold.yaml:8: cavites: unknown key; did you mean cavities?`},
	{"part of the feed misspelt", "  runner:", "  runer:",
		`mold.yaml:12: feed.runer: unknown key; did you mean runner?`},
	{"key of a colour misspelt", "    half: plain half", "    haf: plain half",
		`mold.yaml:21: colours[1].haf: unknown key; did you mean half?`},
	{"American spelling", "colours:", "colors:",
		`mold.yaml:18: colors: unknown key; did you mean colours?`},
	{"unknown key of the line", "{belly_share: 40/60}", "{belly_share: 40/60, colour: red}",
		`mold.yaml:16: line.colour: unknown key; known here: belly_share, height, kind, shares`},
	{"unknown key with an escape", "order: 40", "\"\\e[2Jodd\": 40",
		`mold.yaml:26: [2Jodd: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings`},
	{"key given twice", "order: 40", "cavities: 2",
		`mold.yaml:26: cavities: the key is given twice`},
	{"no shop", "shop: shop.yaml\n", "",
		`mold.yaml:1: the key "shop" is missing (the shop file); add it, like shop: ../shop.yaml`},
	{"no bait", "bait: 4 in paddle tail\n", "",
		`mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail`},
	{"no feed", "feed:", "x:",
		`mold.yaml:1: the key "feed" is missing (what a shot fills besides the baits); add it, like feed: {runner: {volume: 6 mL}}
mold.yaml:10: x: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings`},
	{"no line", "line: {belly_share: 40/60}\n", "",
		`mold.yaml:1: the key "line" is missing (where the colours part); add it, like line: {belly_share: 40/60}`},
	{"no vessel", "vessel: quart cup\n", "",
		`mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: pint cup`},
	{"no colours", "colours:", "list:",
		`mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:18: list: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings`},
	{"no name of a colour", "  - name: belly\n    material", "  - material",
		`mold.yaml:18: colours[1]: the key "name" is missing (what the colour is called); add it, like name: belly`},
	{"no half", "half: marked half, ", "",
		`mold.yaml:25: colours[2]: the key "half" is missing (the mold half that this colour lies in); add it, like half: upper half`},
	{"no barrel", "    barrel: right\n", "",
		`mold.yaml:18: colours[1]: the key "barrel" is missing (the barrel that it is drawn into, as the shop file calls it); add it, like barrel: left`},

	{"hook denser than metal", "order: 40", "hook: {weight: 200 g, volume: 0.1 mL}",
		`mold.yaml:26: hook.volume: 200 g in 0.1 mL is denser than any metal; give the water that the hook pushes up in a full glass`},
	{"both colours in one half", "half: marked half", "half: plain half",
		`mold.yaml:18: colours: the belly's and the back's colour both lie in the half called "plain half"; a laminate has one in each`},
	{"sinker of a bait that is not hung", "order: 40", "weighings: {baits: [{air: 4.9 g, sinker: 1 g}], water: 20C}",
		`mold.yaml:26: weighings.baits[1].sinker: a sinker tells nothing without what both have in the water; add it, like hung: 1 g`},
	{"hook without a volume", "order: 40", "hook: {weight: 2 g}",
		`mold.yaml:26: hook: the key "volume" is missing (the water that it pushes up in a full glass); add it, like volume: 0.25 mL`},
	{"boiling water", "order: 40", "water: 100C",
		`mold.yaml:26: water: no such water: 100 C with 0 g/kg of salt; known are 0 to 40 C and 0 to 42 g/kg`},
	{"water without its letter", "order: 40", "water: 60",
		`mold.yaml:26: water: temperature "60": a temperature needs its letter, F or C; write it like 60F or 16C`},

	{"weighings of nothing", "order: 40", "weighings: {}",
		`mold.yaml:26: weighings: give baits (like baits: [12.1 g, 12.0 g, 12.2 g]), or one stroke, each colour in its cup (like stroke: {belly: 31 g, back: 33 g})`},
	{"weighed bait without a unit", "order: 40", "weighings: {baits: [12.1]}",
		`mold.yaml:26: weighings.baits[1]: mass "12.1": no unit; write it like 12.1 g`},
	{"weighed baits that are no list", "order: 40", "weighings: {baits: 12.1 g}",
		`mold.yaml:26: weighings.baits: expected a list, found "12.1 g"; write it like [12.1 g, 12.0 g, 12.2 g]`},
	{"bait that floats", "order: 40", "weighings: {baits: [{air: 5 g, hung: -0.1 g}], water: 20C}",
		`mold.yaml:26: weighings.baits[1].hung: a bait that floats is hung with a sinker, like {air: 4.9 g, hung: 1 g, sinker: 1.1 g}, the sinker weighed in the water by itself`},
	{"hung in air only", "order: 40", "weighings: {baits: [{hung: 1 g}], water: 20C}",
		`mold.yaml:26: weighings.baits[1]: the key "air" is missing (in air); add it, like air: 12.1 g`},
	{"stroke of another colour", "order: 40", "weighings: {stroke: {belly: 3 g, black: 3 g}}",
		`mold.yaml:26: weighings.stroke.black: unknown key; did you mean back?`},
	{"fed and weighed", "order: 40", "fed: 40 %\nweighings: {baits: [12.1 g]}",
		`mold.yaml:26: fed: the weighed baits say what is fed; take this out, or the baits`},
	{"stroke of a mold without baits", "model: bait.stl", "weighings: {stroke: {belly: 3 g, back: 3 g}}",
		`mold.yaml:4: weighings: there is no model, so at least one weighed bait is needed, like baits: [12.1 g, 12.0 g]`},

	// the other file
	{"no such shop file", "shop: shop.yaml", "shop: no such.yaml",
		`mold.yaml:1: shop: no such.yaml: there is no such file`},
	{"folder for a shop file", "shop: shop.yaml", "shop: .",
		`mold.yaml:1: shop: FOLDER: this is a folder, not a file`},
	{"the mold file itself for a shop file", "shop: shop.yaml", "shop: mold.yaml",
		`mold.yaml:1: shop: mold.yaml: this is a mold file; a shop file was expected (materials, injectors, vessels)`},
	{"escape in the path", "shop: shop.yaml", `shop: "shop\e.yaml"`,
		`mold.yaml:1: shop: "shop.yaml" is no file name: it holds unprintable characters; write it like ../shop.yaml`},

	// names of the shop
	{"unknown material", "material: soft", "material: sft",
		`mold.yaml:19: colours[1].material: the shop file has no material "sft"; did you mean soft? there is: soft, tough`},
	{"unknown additive", "      salt: 1/8 cup", "      sugar: 1/8 cup",
		`mold.yaml:23: colours[1].mix.sugar: the shop file has no additive "sugar"; there is: flake, green, salt`},
	{"unknown injector", "injector: twin", "injector: quad",
		`mold.yaml:14: injector: the shop file has no injector "quad"; there is: single, twin`},
	{"unknown vessel", "vessel: quart cup", "vessel: quartcup",
		`mold.yaml:15: vessel: the shop file has no vessel "quartcup"; did you mean quart cup? there is: pint cup, quart cup`},
	{"unknown barrel", "barrel: left", "barrel: lft",
		`mold.yaml:25: colours[2].barrel: injector "twin" has no barrel "lft"; did you mean left? there is: left, right`},
	{"same barrel twice", "barrel: left", "barrel: right",
		`mold.yaml:25: colours[2].barrel: the right barrel holds the first colour; give the other`},
	{"one barrel for two colours", "injector: twin", "injector: single",
		`mold.yaml:14: injector: "single" has one barrel; two colours need an injector with two`},

	// colours
	{"no list of colours", "colours:\n", "colours: {name: belly}\nlist:\n",
		`mold.yaml:17: colours: expected a list (lines that begin with -), found keys with values; write it like [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:19: list: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings`},
	{"two colours of one name", "name: back", "name: belly",
		`mold.yaml:18: colours: both colours are called "belly"; name them apart`},
	{"three colours", "order: 40", "  - {name: side}",
		`mold.yaml:14: injector: "twin" has 2 barrels; 3 colours shot at once need as many
mold.yaml:16: line.belly_share: unknown key; known here: shares
mold.yaml:16: line: the key "shares" is missing (of every colour, from belly to back); add it, like shares: 20/50/30
mold.yaml:26: colours[3]: the key "half" is missing (the mold half that this colour lies in); add it, like half: upper half
mold.yaml:26: colours[3]: the key "material" is missing (its plastisol, as the shop file calls it); add it, like material: soft`},
	{"five colours", "order: 40", "  - {name: side}\n  - {name: fin}\n  - {name: eye}",
		`mold.yaml:16: line.belly_share: unknown key; known here: shares
mold.yaml:16: line: the key "shares" is missing (of every colour, from belly to back); add it, like shares: 20/50/30
mold.yaml:18: colours: one colour, or two to 4 from belly to back, not 5
mold.yaml:26: colours[3]: the key "material" is missing (its plastisol, as the shop file calls it); add it, like material: soft
mold.yaml:27: colours[4]: the key "material" is missing (its plastisol, as the shop file calls it); add it, like material: soft
mold.yaml:28: colours[5]: the key "half" is missing (the mold half that this colour lies in); add it, like half: upper half
mold.yaml:28: colours[5]: the key "material" is missing (its plastisol, as the shop file calls it); add it, like material: soft`},
	{"a colour that is a word", "  - {name: back,", "  - back\n  - {name: back,",
		`mold.yaml:25: colours[2]: expected lines like key: value (a space follows the colon), found "back"`},
	{"dose without its unit", "salt: 1/8 cup", "salt: 1/8",
		`mold.yaml:23: colours[1].mix.salt: amount "1/8": no unit; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`},
	{"dose of an unknown unit", "salt: 1/8 cup", "salt: 3 pinches",
		`mold.yaml:23: colours[1].mix.salt: amount "3 pinches": unknown unit "pinches"; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`},
	{"dose of mixed kinds", "salt: 1/8 cup", "salt: 1/8 cup + 3 g",
		`mold.yaml:23: colours[1].mix.salt: amount "1/8 cup + 3 g": spoons, weights, drops and percentages do not add up; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`},
	{"negative dose", "salt: 1/8 cup", "salt: -1/8 cup",
		`mold.yaml:23: colours[1].mix.salt: amount "-1/8 cup": must not be negative; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`},
	{"dose for the whole order", "salt: 1/8 cup", "salt: 2 kg",
		`mold.yaml:23: colours[1].mix.salt: 2000 g is more of it than of plastisol; amounts are for one cup of plastisol`},
	{"spoons of what has no loose density", "green: 6 drops", "green: 1/4 tsp",
		`mold.yaml:24: colours[1].mix.green: an amount in spoons or cups needs the additive's loose density in the shop file (loose: 1.2; weigh a level 1/4 cup, divide the grams by 59.15); or give it in g`},
	{"list for a dose", "salt: 1/8 cup", "salt: [1, 8]",
		`mold.yaml:23: colours[1].mix.salt: expected one value, found a list; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`},
	{"nothing for the mix", "    mix:\n      salt: 1/8 cup\n      green: 6 drops\n", "    mix:\n",
		`mold.yaml:22: colours[1].mix: expected lines like key: value (a space follows the colon), found nothing; fill it in or take the key out`},

	// the line
	{"height and share", "{belly_share: 40/60}", "{belly_share: 40/60, height: 2 mm}",
		`mold.yaml:16: line: give either height (like 2.5 mm) or belly_share (like 40/60)`},
	{"neither height nor share", "{belly_share: 40/60}", "{}",
		`mold.yaml:16: line: give either height (like 2.5 mm) or belly_share (like 40/60)`},
	{"share 0", "belly_share: 40/60", "belly_share: 0/100",
		`mold.yaml:16: line.belly_share: both colours need a share above nothing, like 40/60`},
	{"share 1", "belly_share: 40/60", "belly_share: 1",
		`mold.yaml:16: line.belly_share: both colours need a share above nothing, like 40/60`},
	{"share of no sum", "belly_share: 40/60", "belly_share: 2/3",
		`mold.yaml:16: line.belly_share: share "2/3": the two shares must make 100; write it like 40/60, 40 % or 0.4`},
	{"share in words", "belly_share: 40/60", "belly_share: half",
		`mold.yaml:16: line.belly_share: share "half": no number; write it like 40/60, 40 % or 0.4`},
	{"height without its unit", "belly_share: 40/60", "height: 2.5",
		`mold.yaml:16: line.height: length "2.5": no unit; write it like 2.5 mm`},
	{"value for the line", "line: {belly_share: 40/60}", "line: 40/60",
		`mold.yaml:16: line: expected lines like key: value (a space follows the colon), found "40/60"`},

	// the bait
	{"model and weight", "unit: in", "weighed: 10 g",
		`mold.yaml:5: weighed: give the model or a weighed bait, not both`},
	{"neither model nor weight", "model: bait.stl\n", "",
		`mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)`},
	{"weight of nothing", "model: bait.stl\nunit: in\nback: +y\nnose: -x", "weighed: 0 g",
		`mold.yaml:4: weighed: "0 g" must be more than nothing; write it like 9.8 g or 1/2 oz`},
	{"unknown unit", "unit: in", "unit: ft",
		`mold.yaml:5: unit: unit "ft" is not known; use mm, cm, in or m`},
	{"not a direction", "back: +y", "back: up",
		`mold.yaml:6: back: not a direction: "up"; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`},
	{"back and nose opposite", "nose: -x", "nose: -y",
		`mold.yaml:7: nose: back and nose lie along one line; the back is up, the nose is forward`},
	{"no cavities", "cavities: 2", "cavities: 0",
		`mold.yaml:8: cavities: 0 lies outside 1 to 1000; write it like 2`},
	{"half a cavity", "cavities: 2", "cavities: 2.5",
		`mold.yaml:8: cavities: "2.5" is not a whole number; write it like 2`},
	{"cavities in words", "cavities: 2", "cavities: two",
		`mold.yaml:8: cavities: "two" is not a whole number; write it like 2`},
	{"huge order", "order: 40", "order: 99999999999999999999",
		`mold.yaml:26: order: "99999999999999999999" is not a whole number; write it like 40`},
	{"negative order", "order: 40", "order: -40",
		`mold.yaml:26: order: -40 lies outside 1 to 10000000; write it like 40`},

	// the feed
	{"channel with two ways", "{volume: 1.5 mL}", "{volume: 1.5 mL, weighed: 2 g}",
		`mold.yaml:10: feed.plug: give one of: model (a file), volume (like 6 mL), weighed (like 7 g), or length with diameter or with width and depth`},
	{"channel with no way", "{volume: 1.5 mL}", "{count: 2}",
		`mold.yaml:10: feed.plug: give one of: model (a file), volume (like 6 mL), weighed (like 7 g), or length with diameter or with width and depth`},
	{"channel round and flat", "diameter: 6 mm, to: 8 mm", "diameter: 6 mm, width: 8 mm",
		`mold.yaml:11: feed.sprue: give a round channel its diameter, a flat one its width and depth`},
	{"channel neither round nor flat", "diameter: 6 mm, to: 8 mm", "to: 8 mm",
		`mold.yaml:11: feed.sprue: give a round channel its diameter, a flat one its width and depth`},
	{"flat channel without a depth", "depth: 5 mm, ", "",
		`mold.yaml:12: feed.runner: the key "depth" is missing (of a flat channel); add it, like depth: 5 mm`},
	{"channel of no length", "length: 20 mm", "length: 0 mm",
		`mold.yaml:11: feed.sprue.length: "0 mm" must be more than nothing; write it like 60 mm or 3/8 in`},
	{"channel without its unit", "length: 20 mm", "length: 20",
		`mold.yaml:11: feed.sprue.length: length "20": no unit; write it like 60 mm or 3/8 in`},
	{"channel of no count", "depth: 5 mm, count: 2", "depth: 5 mm, count: 0",
		`mold.yaml:12: feed.runner.count: 0 lies outside 1 to 10000; write it like 2`},
	{"feed parts and trimmings", "  plug: {volume: 1.5 mL}", "  trimmings: {weighed: 12 g}",
		`mold.yaml:10: feed.trimmings: weighed trimmings are the whole feed: give them, or its parts, not both`},
	{"value for a part of the feed", "{volume: 1.5 mL}", "1.5 mL",
		`mold.yaml:10: feed.plug: expected lines like key: value (a space follows the colon), found "1.5 mL"`},
	{"nothing for the feed", "  plug: {volume: 1.5 mL}\n  sprue: {length: 20 mm, diameter: 6 mm, to: 8 mm}\n  runner: {length: 60 mm, width: 6 mm, depth: 5 mm, count: 2}\n  gates: {model: gate.stl, count: 2}\n", "",
		`mold.yaml:9: feed: expected lines like key: value (a space follows the colon), found nothing; fill it in or take the key out`},
}

func TestBadMoldFiles(t *testing.T) {
	for _, b := range badMolds {
		t.Run(b.name, func(t *testing.T) { b.check(t, readChanged(t, "mold.yaml", b)) })
	}
}

// A height needs a model to be a height of, and one colour cannot have a line.
func TestLineThatCannotBe(t *testing.T) {
	weighed := replaceOnce(t, goodMold, "model: bait.stl\nunit: in\nback: +y\nnose: -x\n", "weighed: 9 g\n")
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": replaceOnce(t, weighed, "belly_share: 40/60", "height: 2 mm")})
	_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	b := bad{want: `mold.yaml:13: line.height: a height needs a model of the bait; give belly_share: 40/60 instead`}
	b.check(t, inFolder(dir, err))

	b = bad{"", "  - {name: back, material: tough, barrel: left, half: marked half, mix: {flake: 1/4 tsp}}\n", "",
		`mold.yaml:16: line: one colour has no colour line; take it out or add a colour`}
	b.check(t, readChanged(t, "mold.yaml", b))
}
