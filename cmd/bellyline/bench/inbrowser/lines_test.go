package inbrowser

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// partsSettle waits until what the line gives to each colour is on the page.
func (p *tab) partsSettle() {
	p.t.Helper()
	p.settle()
	p.do(chromedp.WaitReady("#parts[aria-busy=false]", chromedp.ByQuery))
}

// set types a value into a field and leaves it.
func (p *tab) set(id, value string) {
	p.t.Helper()
	p.do(chromedp.Evaluate(`{ const e = document.getElementById('`+id+`'); e.value = '`+value+`'; e.dispatchEvent(new Event('change', {bubbles: true})); }`, nil))
	p.partsSettle()
}

// samePartsAsSplit compares every number of the parts on the page with what "split
// --json" says of the line file that the page saves.
func (p *tab) samePartsAsSplit(folder, model string, flags ...string) {
	p.t.Helper()
	text, err := os.ReadFile(p.save("line"))
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "line.yaml"), text, 0o600); err != nil {
		p.t.Fatal(err)
	}
	out, complaint := program(p.t, folder, append([]string{"split", "--json", model, "--line", "line.yaml"}, flags...)...)
	if complaint != "" {
		p.t.Fatalf("%s of\n%s", complaint, text)
	}
	var split any
	if err := json.Unmarshal(out, &split); err != nil {
		p.t.Fatal(err)
	}
	cells := look[[][2]string](p, `[...document.querySelectorAll('#parts [data-part]')].map(c => [c.dataset.part, c.textContent])`)
	if len(cells) < 9 {
		p.t.Errorf("only %d numbers of the parts are on the page", len(cells))
	}
	for _, c := range cells {
		want, _ := at(split, strings.TrimPrefix(c[0], "split.")).(float64)
		switch {
		case strings.HasSuffix(c[0], "volume_mm3"):
			want /= 1000 // shown in mL
		case strings.HasSuffix(c[0], "share"):
			want *= 100
		}
		sameNumber(p.t, c[0], c[1], want)
	}
}

// Every kind of line can be chosen; what it gives is what split says of the line that
// is saved.
func TestKindsOfLine(t *testing.T) {
	address, folder := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	p.set("injector", "hand pair")
	for _, kind := range []string{"straight", "drawn", "crosswise", "stripe", "layers"} {
		p.set("line-kind", kind)
		if got := look[string](p, `document.getElementById('refusal').textContent`); got != "" {
			t.Errorf("%s: the page says %q", kind, got)
		}
		p.samePartsAsSplit(folder, "paddletail/bait.stl")
	}
	if got := look[string](p, `document.getElementById('line-note').textContent`); !strings.Contains(got, "second shot") {
		t.Errorf("of three colours the page says %q", got)
	}
	if got := look[string](p, `document.getElementById('legend').textContent`); !strings.Contains(got, "layer 2, barred") {
		t.Errorf("the third colour is not named: %q", got)
	}
}

// The handle at the tail tilts the line: by hand, and by keys.
func TestTiltByHandle(t *testing.T) {
	address, folder := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	tilt := func() float64 { return parse(t, look[string](p, `document.getElementById('fore').value`)) }
	p.drag("#tilt-knob", 0, 30)
	p.partsSettle()
	down := tilt()
	if !(down > 0.5) {
		t.Errorf("with its tail dragged down the line rises by %g degrees to the nose", down)
	}
	p.samePartsAsSplit(folder, "paddletail/bait.stl")
	p.do(chromedp.Focus("#tilt-knob"), chromedp.KeyEvent(kb.ArrowUp))
	p.partsSettle()
	if up := tilt(); !(up < down) {
		t.Errorf("the arrow key changed the tilt from %g to %g degrees", down, up)
	}
	if text := look[string](p, `document.getElementById('tilt-knob').getAttribute('aria-valuetext')`); !strings.Contains(text, "rises") {
		t.Errorf("a screen reader hears %q", text)
	}
	sameNumbers(t, p, pourJSON(t, folder, saveMold(p, folder)))
	p.do(chromedp.Focus("#tilt-knob"), chromedp.KeyEvent(kb.Home))
	p.partsSettle()
	if got := tilt(); got != 0 {
		t.Errorf("made level, the line is tilted by %g degrees", got)
	}
}

// Points of a drawn line are dragged, added and taken out, by hand and by keys.
func TestDrawnLine(t *testing.T) {
	address, folder := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	p.set("line-kind", "drawn")
	points := func() int { return look[int](p, `document.querySelectorAll('.handle.point').length`) }
	height := func(i string) float64 {
		return parse(t, look[string](p, `document.querySelector('[data-point="`+i+` 1"]').value`))
	}
	if points() != 4 {
		t.Errorf("a drawn line begins with %d points", points())
	}
	before := height("1")
	p.drag("#point-1", 10, -20)
	p.partsSettle()
	if after := height("1"); !(after > before+0.5) {
		t.Errorf("dragged up, the point went from %g to %g mm", before, after)
	}
	p.samePartsAsSplit(folder, "paddletail/bait.stl")
	p.do(chromedp.Focus("#point-2"), chromedp.KeyEvent("+"))
	p.partsSettle()
	if points() != 5 || look[string](p, `document.activeElement.id`) != "point-3" {
		t.Errorf("after adding one there are %d points, %s is at hand", points(), look[string](p, `document.activeElement.id`))
	}
	p.do(chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.Delete))
	p.partsSettle()
	if points() != 4 {
		t.Errorf("after taking one out there are %d points", points())
	}
	p.do(chromedp.Evaluate(`{ const r = document.getElementById('stage').getBoundingClientRect(); document.getElementById('stage').dispatchEvent(new MouseEvent('dblclick', {bubbles: true, clientX: r.x + r.width / 2 + 7, clientY: r.y + r.height / 2})); }`, nil))
	p.partsSettle()
	if points() != 5 {
		t.Errorf("after clicking twice on the picture there are %d points", points())
	}
	p.do(chromedp.Click("#smooth"))
	p.partsSettle()
	p.set("share", "45/55")
	p.samePartsAsSplit(folder, "paddletail/bait.stl")
	sameNumbers(t, p, pourJSON(t, folder, saveMold(p, folder)))
}

func saveMold(p *tab, folder string) string {
	p.t.Helper()
	text, err := os.ReadFile(p.save("mold"))
	if err != nil {
		p.t.Fatal(err)
	}
	const name = "paddletail/saved.yaml"
	if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
		p.t.Fatal(err)
	}
	return name
}

// A mold file of three colours shows them all, and the numbers that pour prints.
func TestThreeColours(t *testing.T) {
	address, folder := start(t)
	text, err := os.ReadFile(filepath.Join(folder, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	triple := "injectors:\n  triple:\n    drive: independent\n    barrels:\n      left: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n      middle: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n      right: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n"
	shop := strings.Replace(string(text), "injectors:\n", triple, 1)
	mold := "shop: shop.yaml\nbait: grub\nmold: one\nmodel: bait.stl\ncavities: 1\nfeed: {runner: {volume: 6 mL}}\nfed: 50%\ninjector: triple\nvessel: quart cup\nline: {shares: 20/50/30}\n" +
		"colours:\n  - {name: belly, material: soft, barrel: left, half: plain half}\n  - {name: flank, material: soft, barrel: middle}\n  - {name: back, material: soft, barrel: right, half: marked half}\n"
	home := filepath.Join(folder, "ringgrub")
	for name, content := range map[string]string{"three.yaml": mold, "shop.yaml": shop} {
		if err := os.WriteFile(filepath.Join(home, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p := openTab(t, address)
	p.choose(filepath.Join(home, "three.yaml"), filepath.Join(home, "shop.yaml"), filepath.Join(home, "bait.stl"))
	p.do(chromedp.WaitVisible("#sheet table"))
	p.settle()
	sameNumbers(t, p, pourJSON(t, folder, "ringgrub/three.yaml"))
	if got := look[string](p, `document.getElementById('legend').textContent`); !strings.Contains(got, "flank, barred") || !strings.Contains(got, "back, dotted") {
		t.Errorf("the colours are named %q", got)
	}
}
