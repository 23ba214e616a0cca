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

// readNewMold reads how a shop cuts new molds; every key may be missing.
func readNewMold(s *section) NewMold {
	n := NewMold{Practice: layout.DefaultPractice()}
	sub := s.section("new_mold", false)
	if sub == nil {
		return n
	}
	p := &n.Practice
	for _, x := range []struct {
		key string
		to  *float64
	}{
		{"spacing", &p.SpacingMM}, {"edge", &p.EdgeMM}, {"floor", &p.FloorMM}, {"land", &p.LandMM}, {"gate", &p.GateMM},
		{"least_gate", &p.LeastMM}, {"pin", &p.PinMM}, {"bolt", &p.BoltMM}, {"vent_depth", &p.VentMM}, {"vent_width", &p.VentWideMM},
		{"thin_tip", &p.ThinTipMM},
	} {
		*x.to = may(sub, x.key, units.Length(*x.to), shortLength).MM()
	}
	p.LongPerOne = may(sub, "long_per_one", p.LongPerOne, number(100))
	if sub.has("long_per_one") && p.LongPerOne < 1 {
		sub.fail("long_per_one", "a block cannot be shorter along its runner than 1 time its width here; 2.5 is common")
	}
	if p.LeastMM > p.GateMM {
		sub.fail("least_gate", "the least gate, %v, is wider than the gate, %v", units.Length(p.LeastMM), units.Length(p.GateMM))
	}
	for _, x := range []struct {
		key string
		mm  float64
	}{{"pin", p.PinMM}, {"bolt", p.BoltMM}, {"vent_width", p.VentWideMM}} {
		if x.mm > p.EdgeMM {
			sub.fail(x.key, "%v is wider than the edge that it lies in, %v", units.Length(x.mm), units.Length(p.EdgeMM))
		}
	}
	p.RunnersMM = lengths(sub, "runners", p.RunnersMM)
	n.LargestMM = may(sub, "largest", n.LargestMM, Rectangle)
	readStock(sub, &p.Stock)
	readClamps(sub, &n.Clamps)
	n.Given = slices.Clone(sub.order)
	sub.done()
	return n
}

func readStock(s *section, stock *layout.Stock) {
	sub := s.section("stock", false)
	if sub == nil {
		return
	}
	stock.Metal = may(sub, "metal", stock.Metal, word)
	stock.GML = may(sub, "density", stock.GML, density(0.5, 25))
	stock.PerKg = 1000 * may(sub, "price", 0, perMass)
	stock.WidthsMM = lengths(sub, "widths", stock.WidthsMM)
	stock.ThicksMM = lengths(sub, "thicknesses", stock.ThicksMM)
	stock.LongestMM = may(sub, "longest", 0, positive(longLength)).MM()
	sub.done()
}

func readClamps(s *section, c *layout.Clamps) {
	sub := s.section("clamps", false)
	if sub == nil {
		return
	}
	c.OpeningMM = may(sub, "opening", 0, positive(shortLength)).MM()
	c.LengthMM = may(sub, "length", 0, positive(longLength)).MM()
	c.ForceN = may(sub, "force", 0, force)
	sub.done()
}

// shortLength and longLength refuse what a mold or a bar cannot be.
func shortLength(t string) (units.Length, error) { return lengthTo(1000, t) }
func longLength(t string) (units.Length, error)  { return lengthTo(20000, t) }

func lengthTo(mostMM float64, t string) (units.Length, error) {
	v, err := units.ParseLength(t)
	if err == nil && v.MM() > mostMM {
		return 0, fmt.Errorf("%q is too large to be meant; write it like 6.5 mm or 1/4 in", t)
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
		s.fail(key, "expected a list of sizes, like [1/2 in, 3/4 in, 1 in], found %s", describe(s.values[key]))
		return fallback
	}
	var list []float64
	for _, n := range seq.Values {
		t, ok := scalar(n)
		if !ok {
			s.doc.fail(line(n), s.sub(key), "expected a size like 3/4 in, found %s", describe(n))
			return fallback
		}
		v, err := positive(shortLength)(t)
		if err != nil {
			s.doc.fail(line(n), s.sub(key), "%v", err)
			return fallback
		}
		if len(list) > 0 && v.MM() <= list[len(list)-1] {
			s.doc.fail(line(n), s.sub(key), "sizes have to go from small to large; %q does not", t)
			return fallback
		}
		list = append(list, v.MM())
	}
	return list
}
