package files

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

// tree is a file as values: mappings, lists and texts.
type tree = map[string]any

// value reads a value as it stands in a file.
func value(t testing.TB, text string) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return v
}

// put sets a value by its path; of a list the first entry is meant.
func put(at any, path []string, v any) {
	m, ok := at.(tree)
	if list, isList := at.([]any); isList {
		m, ok = list[0].(tree)
	}
	switch {
	case !ok:
	case len(path) == 1 && v == nil:
		delete(m, path[0])
	case len(path) == 1:
		m[path[0]] = v
	default:
		switch m[path[0]].(type) {
		case tree, []any:
		default:
			m[path[0]] = tree{}
		}
		put(m[path[0]], path[1:], v)
	}
}

// Names that stand for the free ones of a table.
var chosen = map[string]string{"MATERIAL": "soft", "ADDITIVE": "salt", "INJECTOR": "twin", "BARREL": "left", "VESSEL": "quart cup", "COLOUR": "belly", "HALF": "lower half"}

// place is a key of a table with its path in a file, and what of the good file must be
// otherwise for it to be read.
type place struct {
	path []string
	key  Key
	kind string
}

// places lists every key of a table, those of each kind of line too.
func places(keys []Key, under []string, kind string) []place {
	var list []place
	for _, k := range keys {
		name := k.Name
		if c, ok := chosen[name]; ok {
			name = c
		}
		path := slices.Concat(under, []string{name})
		list = append(list, place{path, k, kind})
		list = append(list, places(k.Keys, path, kind)...)
		for _, kind := range k.Kinds {
			list = append(list, places(kind.Keys, path, kind.Name)...)
		}
	}
	return list
}

const tableShop = `
shop: test shop
materials: {soft: {density: 1.02, expansion: 0.0006, pour: 340F, ceiling: 375F}}
additives: {salt: {true: 2.165, loose: 1.2, when: before heating}}
injectors:
  twin: {drive: ganged, barrels: {left: {bore: 1 1/4 in, holds: 6 fl oz}, right: {bore: 1 1/4 in, holds: 6 fl oz}}}
vessels: {quart cup: {holds: 4 cups}, gallon pot: {holds: 1 gal}}
`

const tableMold = `
shop: ../shop.yaml
bait: paddle tail
mold: twin swimmer
model: bait.stl
cavities: 2
feed: {runner: {volume: 6 mL}}
injector: twin
vessel: quart cup
line: {belly_share: 40/60}
colours:
  - {name: belly, material: soft, barrel: left, half: lower half}
  - {name: back, material: soft, barrel: right, half: upper half}
`

const tableOrder = `
shop: shop.yaml
order: boxes
lines: [{mold: paddletail/mold.yaml, pieces: 120}]
`

// tableFiles are where the good files of the tables lie.
var tableFiles = map[string]struct{ path, good string }{
	"shop-file":  {"shop.yaml", tableShop},
	"mold-file":  {"paddletail/mold.yaml", tableMold},
	"order-file": {"order.yaml", tableOrder},
	"line-file":  {"line.yaml", "{}"},
}

// channelWays are what a part of the feed has besides a key.
var channelWays = map[string]string{"model": "{}", "volume": "{}", "weighed": "{}", "unit": "{model: a.stl}", "count": "{volume: 6 mL}",
	"length": "{diameter: 6 mm}", "diameter": "{length: 60 mm}", "to": "{length: 60 mm, diameter: 6 mm}", "width": "{length: 60 mm, depth: 5 mm}", "depth": "{length: 60 mm, width: 6 mm}"}

// kindWays are what a line of a kind has besides.
var kindWays = map[string]string{"kind: tilted": "{kind: tilted, tilt: 5 deg}", "kind: stripe": "{kind: stripe, width: 4 mm}",
	"kind: drawn": "{kind: drawn, points: [{along: -40 mm, height: 0 mm}, {along: 30 mm, height: 4 mm}]}"}

// ready makes a good file into one that takes a key.
func (p place) ready(t testing.TB, file string, top tree) {
	path := strings.Join(p.path, ".")
	set := func(path, text string) { put(top, strings.Split(path, "."), value(t, text)) }
	drop := func(keys ...string) {
		for _, k := range keys {
			put(top, strings.Split(k, "."), nil)
		}
	}
	last := p.path[len(p.path)-1]
	switch {
	case p.kind != "":
		p.readyLine(t, file, top)
	case file == "mold-file" && p.path[0] == "feed" && len(p.path) == 2:
		drop("feed")
	case file == "mold-file" && p.path[0] == "feed" && len(p.path) == 3:
		set("feed", "{"+p.path[1]+": "+channelWays[last]+"}")
	case file == "mold-file" && p.path[0] == "halves":
		drop("model", "cavities", "feed")
		set("halves", "{lower half: a.stl, upper half: b.stl}")
	case path == "weighed":
		drop("model")
	case p.path[0] == "sides":
		set("streams", "across")
		set("sides", "{belly: 1, back: 1}")
	case path == "plungers_apart.belly":
		set("plungers_apart", "{belly: 3 mm}")
	case strings.HasPrefix(path, "weighings.baits"):
		set("weighings", "{water: 68F, baits: [{air: 12.1 g, hung: 0.8 g}]}")
	case path == "weighings.water":
		set("weighings", "{baits: [12 g]}")
	case strings.HasPrefix(path, "weighings.stroke"):
		set("weighings", "{stroke: {belly: 31 g, back: 33 g}}")
	case p.path[0] == "hook":
		set("hook", "{weight: 2 g, volume: 0.25 mL}")
	case path == "lines.packs":
		drop("lines.pieces")
		set("lines.pack", "10")
	case path == "lines.injector", strings.HasPrefix(path, "lines.colours"):
		set("lines.colours", "[{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]")
	case p.path[0] == "leftovers":
		set("leftovers", "[{colour: belly, weight: 250 g, heated: 1}]")
	case strings.Contains(path, ".cooled"):
		set("vessels.quart cup.cooled", "{from: 340F, to: 320F, in: 4 min}")
	}
}

// readyLine makes a file ready for a key of a kind of line.
func (p place) readyLine(t testing.TB, file string, top tree) {
	var under []string
	if p.path[0] == "line" || p.path[0] == "lines" {
		under = p.path[:1]
	}
	line := tree{}
	if text := kindWays[p.kind]; text != "" {
		line = value(t, text).(tree)
	} else if word, ok := strings.CutPrefix(p.kind, "kind: "); ok {
		line["kind"] = word
	}
	i := slices.IndexFunc(lineKinds[:], func(k lineKind) bool { return p.kind == "kind: "+string(k.kind) })
	switch last := p.path[len(under)]; {
	case i < 0 && file == "line-file":
	case i < 0: // of three colours
		put(top, []string{"injector"}, value(t, "tri"))
		put(top, []string{"colours"}, value(t, `[{name: belly, material: soft, barrel: a, half: lower half}, {name: side, material: soft, barrel: b}, {name: back, material: soft, barrel: c, half: upper half}]`))
	case last == "hinge":
		delete(line, "tilt")
		line["hinge"] = value(t, "{along: 0 mm, height: 2 mm}")
		line[lineKinds[i].share] = "40/60"
	case last != lineKinds[i].share && last != lineKinds[i].place && last != "shares":
		line[lineKinds[i].share] = "40/60"
	}
	switch {
	case file == "mold-file":
		put(top, under, line)
	case under != nil:
		put(top, under, []any{line})
	default:
		for k, v := range line {
			top[k] = v
		}
	}
}

// readTable reads a file of a table, with the others as they should be.
func readTable(t testing.TB, file string, top tree) error {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "paddletail"), 0o700); err != nil {
		t.Fatal(err)
	}
	shop := value(t, tableShop).(tree)
	put(shop, []string{"injectors", "tri"}, value(t, `{drive: independent, barrels: {a: {holds: 180 mL}, b: {holds: 180 mL}, c: {holds: 180 mL}}}`))
	for name, f := range tableFiles {
		v := value(t, f.good)
		switch name {
		case "shop-file":
			v = shop
		}
		if name == file {
			v = top
		}
		text, err := yaml.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, f.path), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	at := filepath.Join(dir, tableFiles[file].path)
	var err error
	switch file {
	case "shop-file":
		_, err = ReadShop(at)
	case "mold-file":
		_, err = ReadMold(at)
	case "order-file":
		_, err = ReadOrder(at)
	default:
		_, err = ReadLine(at)
	}
	return err
}

// tablePlaces calls f for every key of every table.
func tablePlaces(t *testing.T, f func(t *testing.T, file string, p place)) {
	for _, table := range Tables() {
		list := places(table.Keys, nil, "")
		for _, kind := range table.Kinds {
			list = append(list, places(kind.Keys, nil, kind.Name)...)
		}
		for _, p := range list {
			t.Run(table.Name+"/"+p.kind+"/"+strings.Join(p.path, "."), func(t *testing.T) { f(t, table.Name, p) })
		}
	}
}

// Each example of a table is read by the reader of its key.
func TestEveryExampleIsRead(t *testing.T) {
	tablePlaces(t, func(t *testing.T, file string, p place) {
		if p.key.Example == "" {
			t.Fatal("no example")
		}
		for _, example := range p.key.examples() {
			top := value(t, tableFiles[file].good).(tree)
			p.ready(t, file, top)
			put(top, p.path, value(t, example))
			if err := readTable(t, file, top); err != nil {
				t.Errorf("%s: %v", example, err)
			}
		}
	})
}

// Each key of a table is read: nonsense is refused there, and not as an unknown key.
func TestEveryKeyIsRead(t *testing.T) {
	tablePlaces(t, func(t *testing.T, file string, p place) {
		top := value(t, tableFiles[file].good).(tree)
		p.ready(t, file, top)
		put(top, p.path, []any{[]any{}})
		err := readTable(t, file, top)
		plainPath := strings.Join(p.path, ".")
		found := slices.ContainsFunc(faults(err), func(e *Error) bool {
			return strings.HasPrefix(listIndex.ReplaceAllString(e.Key, ""), plainPath) && !strings.Contains(e.Msg, "unknown key")
		})
		if !found {
			t.Errorf("nonsense is answered with %v", err)
		}
	})
}

// Each key says what it means, and what holds without it.
func TestEveryKeyIsTold(t *testing.T) {
	tablePlaces(t, func(t *testing.T, _ string, p place) {
		k := p.key
		if k.Means == "" && !k.isFree() {
			t.Error("no meaning")
		}
		if k.Unit == "" && k.Keys == nil && k.Kinds == nil {
			t.Error("no unit")
		}
		if k.Must && (k.Default != "" || k.Without != "") {
			t.Error("a key that must be there has a default")
		}
	})
}
