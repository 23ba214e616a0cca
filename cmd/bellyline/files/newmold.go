package files

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"bellyline/cavity/layout"
	"bellyline/cavity/units"
)

// NewMold is what a shop cuts new molds from and how.
type NewMold struct {
	Practice  layout.Practice
	Clamps    layout.Clamps
	LargestMM [2]float64 // block that its mill takes; 0: any
	Given     []string   // keys that the file has; what the others stand for is common practice, no source
}

// newMoldSizes are the lengths of a new mold, each with its place in a practice, whose
// default the table has: common practice, no source.
var newMoldSizes = [...]struct {
	key, means string
	of         func(*layout.Practice) *float64
}{
	{"spacing", "between cavities", func(p *layout.Practice) *float64 { return &p.SpacingMM }},
	{"edge", "from a cavity to the edge of the block", func(p *layout.Practice) *float64 { return &p.EdgeMM }},
	{"floor", "metal behind a cavity", func(p *layout.Practice) *float64 { return &p.FloorMM }},
	{"land", "length of a gate", func(p *layout.Practice) *float64 { return &p.LandMM }},
	{"gate", "bore of the last gate", func(p *layout.Practice) *float64 { return &p.GateMM }},
	{"least_gate", "a finer gate freezes", func(p *layout.Practice) *float64 { return &p.LeastMM }},
	{"pin", "locating pins, in two opposite corners", func(p *layout.Practice) *float64 { return &p.PinMM }},
	{"bolt", "bolt holes, in the other two; 0 mm for none", func(p *layout.Practice) *float64 { return &p.BoltMM }},
	{"vent_depth", "depth of a vent", func(p *layout.Practice) *float64 { return &p.VentMM }},
	{"vent_width", "width of a vent", func(p *layout.Practice) *float64 { return &p.VentWideMM }},
	{"thin_tip", "a thinner tip gets a vent of its own", func(p *layout.Practice) *float64 { return &p.ThinTipMM }},
}

var newMoldKeys = makeNewMoldKeys(layout.DefaultPractice())

func makeNewMoldKeys(usual layout.Practice) []Key {
	var keys []Key
	for _, x := range newMoldSizes {
		mm := millimetres(*x.of(&usual))
		keys = append(keys, Key{Name: x.key, Means: x.means, Unit: aLength, Default: mm, Example: mm})
	}
	runners := listed(usual.RunnersMM)
	return append(keys,
		Key{Name: "long_per_one", Means: "a block is at most so many times as long, along its runner, as wide", Unit: aNumber, Default: plainNumber(usual.LongPerOne), Example: "2.5"},
		Key{Name: "runners", Means: "cutters that runners are cut with, ascending", Unit: "a list of lengths", Without: runners, Example: runners},
		Key{Name: "largest", Means: "block that the mill takes", Unit: "mm or in, two sides", Without: "any", Example: "200 x 150 mm | 12 x 8 in"},
		Key{Name: "stock", Means: "bars that blocks are sawn from", Keys: makeStockKeys(usual.Stock), Example: "{widths: [3 in, 4 in], thicknesses: [1/2 in, 3/4 in]}"},
		Key{Name: "clamps", Means: "what holds a mold shut", Keys: clampKeys, Example: "{opening: 2 in, length: 12 in, force: 6000 N}"})
}

func makeStockKeys(usual layout.Stock) []Key {
	return []Key{
		{Name: "metal", Means: "what they are of", Unit: aName, Default: usual.Metal, Example: "brass"},
		{Name: "density", Means: "of the metal", Unit: aDensity, Default: plainNumber(usual.GML), Example: "8.5"},
		{Name: "price", Means: "of the metal", Unit: "money / a weight", Without: "not known", Example: "4.50 / lb"},
		{Name: "widths", Means: "of bars, ascending", Unit: "a list of lengths", Without: listed(usual.WidthsMM), Example: "[3 in, 4 in]"},
		{Name: "thicknesses", Means: "of bars, ascending", Unit: "a list of lengths", Without: listed(usual.ThicksMM), Example: "[1/2 in, 3/4 in]"},
		{Name: "longest", Means: "length of a bar", Unit: aLength, Without: "any", Example: "12 in"},
	}
}

var clampKeys = []Key{
	{Name: "opening", Means: "both halves together go in between", Unit: aLength, Without: "any", Example: "2 in"},
	{Name: "length", Means: "longest side of the block", Unit: aLength, Without: "any", Example: "12 in"},
	{Name: "force", Means: "that they hold; 10 kg weigh 98 N", Unit: "N", Without: "any", Example: "2000 N"},
}

// listed writes lengths as a list.
func listed(mm []float64) string {
	var list []string
	for _, x := range mm {
		list = append(list, millimetres(x))
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// readNewMold reads how a shop cuts new molds.
func readNewMold(s *section) NewMold {
	n := NewMold{Practice: layout.DefaultPractice()}
	sub := s.section("new_mold")
	if sub == nil {
		return n
	}
	p := &n.Practice
	for _, x := range newMoldSizes {
		*x.of(p) = take(sub, x.key, shortLength).MM()
	}
	p.LongPerOne = take(sub, "long_per_one", number(100))
	if sub.sound("long_per_one") && p.LongPerOne < 1 {
		sub.fail("long_per_one", "a block cannot be shorter along its runner than 1 time its width here; 2.5 is common").write("2.5")
	}
	if sub.sound("gate", "least_gate") && p.LeastMM > p.GateMM {
		sub.fail("least_gate", "the least gate, %v, is wider than the gate, %v", units.Length(p.LeastMM), units.Length(p.GateMM))
	}
	for _, x := range []struct {
		key string
		mm  float64
	}{{"pin", p.PinMM}, {"bolt", p.BoltMM}, {"vent_width", p.VentWideMM}} {
		if sub.sound(x.key, "edge") && x.mm > p.EdgeMM {
			sub.fail(x.key, "%v is wider than the edge that it lies in, %v", units.Length(x.mm), units.Length(p.EdgeMM))
		}
	}
	p.RunnersMM = lengths(sub, "runners", p.RunnersMM)
	n.LargestMM = take(sub, "largest", Rectangle)
	readStock(sub, &p.Stock)
	readClamps(sub, &n.Clamps)
	n.Given = slices.Clone(sub.order)
	return n
}

func readStock(s *section, stock *layout.Stock) {
	sub := s.section("stock")
	if sub == nil {
		return
	}
	stock.Metal = take(sub, "metal", word)
	stock.GML = take(sub, "density", density(0.5, 25))
	stock.PerKg = 1000 * take(sub, "price", perMass)
	stock.WidthsMM = lengths(sub, "widths", stock.WidthsMM)
	stock.ThicksMM = lengths(sub, "thicknesses", stock.ThicksMM)
	stock.LongestMM = take(sub, "longest", positive(longLength)).MM()
}

func readClamps(s *section, c *layout.Clamps) {
	sub := s.section("clamps")
	if sub == nil {
		return
	}
	c.OpeningMM = take(sub, "opening", positive(shortLength)).MM()
	c.LengthMM = take(sub, "length", positive(longLength)).MM()
	c.ForceN = take(sub, "force", force)
}

// shortLength and longLength refuse what a mold or a bar cannot be.
func shortLength(t string) (units.Length, error) { return lengthTo(1000, t) }
func longLength(t string) (units.Length, error)  { return lengthTo(20000, t) }

func lengthTo(mostMM float64, t string) (units.Length, error) {
	v, err := units.ParseLength(t)
	if err == nil && v.MM() > mostMM {
		return 0, fmt.Errorf("%q is too large to be meant", t)
	}
	return v, err
}

// force reads a force like 2000 N.
func force(t string) (float64, error) {
	value, ok := strings.CutSuffix(strings.TrimSpace(t), "N")
	x, err := number(1e9)(value)
	if !ok || err != nil || x == 0 {
		return 0, fmt.Errorf("%q is not a force, like 2000 N (10 kg weigh 98 N)", t)
	}
	return x, nil
}

// Rectangle reads two sides like "200 x 150 mm" or "8 x 6 in", in mm.
func Rectangle(t string) (sides [2]float64, err error) {
	a, b, ok := strings.Cut(strings.ToLower(t), "x")
	unit := strings.TrimLeft(strings.TrimSpace(b), "0123456789./ ")
	if !strings.ContainsAny(a, "mci\"") {
		a += unit
	}
	for i, part := range [2]string{a, b} {
		v, err := units.ParseLength(part)
		if err != nil || !ok || !(v > 0) {
			return sides, fmt.Errorf("%q is not a block, like '200 x 150 mm' or '8 x 6 in'", t)
		}
		sides[i] = v.MM()
	}
	return sides, nil
}

// lengths reads a list of sizes that ascend.
func lengths(s *section, key string, fallback []float64) []float64 {
	if !s.has(key) {
		return fallback
	}
	seq, ok := s.values[key].(*ast.SequenceNode)
	if !ok || len(seq.Values) == 0 {
		s.fail(key, "expected a list of sizes, found %s", describe(s.values[key])).write(s.entry(key).examples()...)
		return fallback
	}
	var list []float64
	for _, n := range seq.Values {
		t, ok := scalar(n)
		if !ok {
			s.fail(key, "expected a size, found %s", describe(n)).write(s.entry(key).examples()...)
			return fallback
		}
		v, err := positive(shortLength)(t)
		if err == nil && len(list) > 0 && v.MM() <= list[len(list)-1] {
			err = fmt.Errorf("sizes have to go from small to large; %q does not", t)
		}
		if err != nil {
			s.fail(key, "%v", withoutExamples{err}).write(s.entry(key).examples()...)
			return fallback
		}
		list = append(list, v.MM())
	}
	return list
}
