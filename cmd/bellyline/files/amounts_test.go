package files

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// A quart is 946.352946 mL (a quarter of the gallon of 231 cubic inches): so much of what
// weighs 1.05 g/mL costs its price. What is spooned loose is bought loose.
func TestPriceOfAVolume(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": replaceOnce(t, replaceOnce(t, goodShop, "drop: 0.04 mL, when", "drop: 0.04 mL, price: 60 / qt, when"), "1.50 / lb", "2 / 100 mL")})
	shop, err := ReadShop(filepath.Join(dir, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"green": 60 / (946.352946 * 1.05), "salt": 2 / (100 * 1.2)} {
		if got := shop.Additives[name].PricePerGram; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s costs %.9g a gram, want %.9g", name, got, want)
		}
	}
}

func TestParseBaits(t *testing.T) {
	for _, c := range []struct {
		text       string
		pack, want int
	}{{"40", 0, 40}, {"4 packs", 10, 40}, {"1 pack", 8, 8}, {" 3packs ", 5, 15}} {
		if got, err := ParseBaits(c.text, c.pack); err != nil || got != c.want {
			t.Errorf("%q of %d is %d (%v), want %d", c.text, c.pack, got, err, c.want)
		}
	}
	for text, want := range map[string]string{"4 packs": "how many baits are in a pack?", "packs": "not a whole number", "0": "lies outside", "4 bags": "not a whole number"} {
		if _, err := ParseBaits(text, 0); err == nil || !strings.Contains(err.Error(), want) && text != "packs" {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	if _, err := ParseBaits("2000000 packs", 10); err == nil {
		t.Error("more than anybody pours is taken")
	}
}

// Packs of a mold file's own size count in the mold file and in the lines of an order.
func TestPacksOfAMoldFile(t *testing.T) {
	dir := folder(t, map[string]string{
		"shop.yaml":  goodShop,
		"mold.yaml":  replaceOnce(t, goodMold, "order: 40", "pack: 8\norder: 5 packs"),
		"order.yaml": "shop: shop.yaml\norder: boxes\nlines: [{mold: mold.yaml, packs: 3}, {mold: mold.yaml, pieces: 2 packs, pack: 6}]\n",
	})
	m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil || m.Baits != 40 {
		t.Fatalf("%+v (%v)", m, err)
	}
	o, err := ReadOrder(filepath.Join(dir, "order.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][2]int{{24, 3}, {12, 2}} {
		if l := o.Lines[i]; l.Pieces != want[0] || l.Packs != want[1] {
			t.Errorf("line %d has %d pieces, %d packs, want %v", i+1, l.Pieces, l.Packs, want)
		}
	}
}

// One colour may be poured into an open mold, which takes nothing but the baits.
func TestNoFeed(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": `
shop: shop.yaml
bait: worm
mold: open
weighed: 9 g
cavities: 4
injector: single
vessel: pint cup
colours: [{name: plain, material: soft}]
notes: |
  pour low and slow
  then tap the mold
`})
	m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil || m.Feed != nil {
		t.Fatalf("feed %v (%v)", m, err)
	}
	if want := "pour low and slow\nthen tap the mold"; m.Notes != want {
		t.Errorf("notes %q, want %q", m.Notes, want)
	}
}
