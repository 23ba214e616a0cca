package files

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"bellyline/cavity/layout"
)

// readNew reads the good shop with lines at its end.
func readNew(t *testing.T, lines string) (*Shop, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.yaml")
	if err := os.WriteFile(path, []byte(goodShop+lines), 0o600); err != nil {
		t.Fatal(err)
	}
	return ReadShop(path)
}

// A pound is 453.59237 g and an inch 25.4 mm (both by definition).
func TestNewMold(t *testing.T) {
	shop, err := readNew(t, `
new_mold:
  stock: {metal: brass, density: 8.5, price: 9 / kg, widths: [2 in, 4 in], thicknesses: [12 mm, 1 in], longest: 1 m}
  clamps: {opening: 2 in, length: 300 mm, force: 2500 N}
  largest: 8 x 6 in
  runners: [5 mm, 1/4 in]
  spacing: 1/4 in
  bolt: 0 mm
  vent_depth: 0.1 mm
  thin_tip: 4 mm
  long_per_one: 2
`)
	if err != nil {
		t.Fatal(err)
	}
	want := NewMold{
		Practice: layout.DefaultPractice(), LargestMM: [2]float64{203.2, 152.4},
		Clamps: layout.Clamps{OpeningMM: 50.8, LengthMM: 300, ForceN: 2500},
		Given:  []string{"stock", "clamps", "largest", "runners", "spacing", "bolt", "vent_depth", "thin_tip", "long_per_one"},
	}
	p := &want.Practice
	p.RunnersMM, p.SpacingMM, p.BoltMM, p.VentMM, p.ThinTipMM, p.LongPerOne = []float64{5, 6.35}, 6.35, 0, 0.1, 4, 2
	p.Stock = layout.Stock{Metal: "brass", GML: 8.5, PerKg: 9, WidthsMM: []float64{50.8, 101.6}, ThicksMM: []float64{12, 25.4}, LongestMM: 1000}
	if diff := cmp.Diff(want, shop.NewMold, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Error("- wanted, + read:\n" + diff)
	}
}

func TestBadNewMold(t *testing.T) {
	for lines, want := range map[string]string{
		"new_mold:\n  spacng: 6 mm\n":                    `new_mold.spacng: unknown key; did you mean spacing?`,
		"new_mold:\n  spacing: 6\n":                      `new_mold.spacing: length "6": `,
		"new_mold:\n  runners: 5 mm\n":                   `new_mold.runners: expected a list of sizes, found "5 mm"; write it like [5 mm, `,
		"new_mold:\n  runners: [6 mm, 5 mm]\n":           `new_mold.runners: sizes have to go from small to large; "5 mm" does not`,
		"new_mold:\n  stock: {widths: [2 in, 300 in]}\n": `new_mold.stock.widths: "300 in" is too large to be meant; write it like [3 in, 4 in]`,
		"new_mold:\n  stock: {price: 9}\n":               `new_mold.stock.price: price "9": write a number without a money sign, and what it is for: a weight; write it like 4.50 / lb`,
		"new_mold:\n  clamps: {force: 20 kg}\n":          `new_mold.clamps.force: "20 kg" is not a force, like 2000 N (10 kg weigh 98 N)`,
		"new_mold:\n  clamps: {opening: 0 mm}\n":         `new_mold.clamps.opening: "0 mm" must be more than nothing`,
		"new_mold:\n  largest: big\n":                    `new_mold.largest: "big" is not a block, like '200 x 150 mm' or '8 x 6 in'`,
		"new_mold:\n  pin: 20 mm\n":                      `new_mold.pin: 20.0 mm (0.79 in) is wider than the edge that it lies in, 13.0 mm (0.51 in)`,
		"new_mold:\n  gate: 2 mm\n  least_gate: 3 mm\n":  `new_mold.least_gate: the least gate, 3.0 mm (0.12 in), is wider than the gate, 2.0 mm (0.08 in)`,
		"new_mold:\n  long_per_one: 0.5\n":               `new_mold.long_per_one: a block cannot be shorter along its runner than 1 time its width here; 2.5 is common`,
		"new_mold: 5\n":                                  `new_mold: expected lines like key: value (a space follows the colon), found "5"`,
	} {
		_, err := readNew(t, lines)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v\nwant %s", lines, err, want)
		}
	}
}
