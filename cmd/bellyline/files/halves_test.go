package files

import (
	"path/filepath"
	"strings"
	"testing"
)

// halvesMold is a mold file that names the mold's halves, the back's first.
const halvesMold = `shop: shop.yaml
bait: shad
mold: four-up
halves: {marked half: m.stl, plain half: p.stl}
feed: {plug: {volume: 1 mL}}
injector: twin
vessel: quart cup
line: {height: 1 mm}
colours:
  - {name: belly, material: soft, barrel: left, half: plain half}
  - {name: back, material: soft, barrel: right, half: marked half}
`

// The half of the belly's colour comes first, whatever the order in the file, and
// the number of cavities is left to the halves.
func TestHalvesInAMoldFile(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": halvesMold})
	m, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if m.Model != nil || m.Cavities != 0 || len(m.Halves.List) != 2 {
		t.Fatalf("model %v, %d cavities, halves %v", m.Model, m.Cavities, m.Halves)
	}
	for i, want := range []HalfModel{{"plain half", filepath.Join(dir, "p.stl")}, {"marked half", filepath.Join(dir, "m.stl")}} {
		if m.Halves.List[i] != want {
			t.Errorf("half %d is %v, want %v", i, m.Halves.List[i], want)
		}
	}
}

func TestBadHalves(t *testing.T) {
	for _, b := range []bad{
		{"a model as well", "bait: shad", "bait: shad\nmodel: bait.stl", `mold.yaml:3: model: the bait's shape comes from the halves; take this out, or the halves`},
		{"three", "plain half: p.stl}", "plain half: p.stl, middle: n.stl}", `mold.yaml:4: halves: a mold has one half that is cut, or two, not 3`},
		{"one for two colours", "marked half: m.stl, ", "", `mold.yaml:4: halves: colours that lie one over the other lie in two halves; name the models of both`},
		{"another name", "plain half: p.stl", "plane half: p.stl", `mold.yaml:4: halves: colour belly lies in the half called "plain half", which is not here; did you mean plane half? there is: marked half, plane half`},
		{"both in one", "half: marked half", "half: plain half", `mold.yaml:10: colours: the belly's and the back's colour both lie in the half called "plain half"; a laminate has one in each`},
		{"a runner as well", "plug: {volume: 1 mL}", "runner: {volume: 1 mL}", `mold.yaml:5: feed.runner: runner and gates are measured in the halves; list only what lies outside of them, like the plug`},
	} {
		t.Run(b.name, func(t *testing.T) {
			if !strings.Contains(halvesMold, b.old) {
				t.Fatalf("%q is not in the file", b.old)
			}
			dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": strings.Replace(halvesMold, b.old, b.new, 1)})
			_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
			b.check(t, inFolder(dir, err))
		})
	}
}
