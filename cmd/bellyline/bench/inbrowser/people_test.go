package inbrowser

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

func (p *tab) choose(files ...string) {
	p.t.Helper()
	p.do(chromedp.SetUploadFiles("#files", files, chromedp.NodeReady))
}

// A broken file shows the sentence of the command line; an open model shows where.
func TestBrokenModels(t *testing.T) {
	address, folder := start(t)
	whole, err := os.ReadFile(filepath.Join(folder, "ringgrub", "bait.stl"))
	if err != nil {
		t.Fatal(err)
	}
	cut := filepath.Join(folder, "cut.stl")
	if err := os.WriteFile(cut, whole[:len(whole)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	p := openTab(t, address)
	p.choose(cut)
	p.do(chromedp.WaitVisible("#refusal"))
	_, complaint := program(t, folder, "measure", "cut.stl")
	if got, want := look[string](p, `document.getElementById('refusal').textContent`), strings.TrimPrefix(complaint, "bellyline measure: "); got != want || want == "" {
		t.Errorf("the page says  %s\nthe command says %s", got, want)
	}

	open := slices.Clone(whole[:len(whole)-50]) // without its last facet
	n := uint32(len(open)-84) / 50
	copy(open[80:], []byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24)})
	hole := filepath.Join(folder, "hole.stl")
	if err := os.WriteFile(hole, open, 0o600); err != nil {
		t.Fatal(err)
	}
	p.choose(hole)
	p.do(chromedp.WaitVisible("#problems li"))
	text := look[string](p, `document.getElementById('problems').textContent + document.getElementById('legend').textContent`)
	if !strings.Contains(text, "3 × boundary edge") || !strings.Contains(text, "3 broken edges are lit") {
		t.Errorf("the page says of a hole: %s", text)
	}
	p.choose(filepath.Join(folder, "ringgrub", "bait.stl"))
	p.do(chromedp.WaitVisible("#work"))
	p.settle()
	if got := look[string](p, `document.getElementById('notes').textContent`); !strings.Contains(got, "invented shop") {
		t.Errorf("nobody says that the shop is invented: %q", got)
	}
}

// faults writes a model with facets at fault, and returns its path.
func faults(t *testing.T, folder string) string {
	t.Helper()
	whole, err := os.ReadFile(filepath.Join(folder, "ringgrub", "bait.stl"))
	if err != nil {
		t.Fatal(err)
	}
	bad := slices.Clone(whole)
	first := bad[84:134]
	for i := range 12 { // two corners of the first facet change places: it is turned over
		first[12+i], first[24+i] = first[24+i], first[12+i]
	}
	bad = append(bad, whole[134:184]...) // the second one comes twice
	point := append(make([]byte, 12), bytes.Repeat(whole[196:208], 3)...)
	bad = append(append(bad, point...), 0, 0) // and one is a point
	binary.LittleEndian.PutUint32(bad[80:], uint32(len(bad)-84)/50)
	file := filepath.Join(folder, "faults.stl")
	if err := os.WriteFile(file, bad, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// Facets at fault are lit and named, each with a button that turns the bait to it.
func TestFaultsAreShownInPlace(t *testing.T) {
	address, folder := start(t)
	file := faults(t, folder)
	p := openTab(t, address)
	p.choose(file)
	p.do(chromedp.WaitVisible("#problems .turn-to"))
	text := look[string](p, `document.getElementById('problems').textContent + document.getElementById('legend').textContent`)
	for _, want := range []string{"misoriented edge", "turned over are lit", "1 × degenerate facet", "1 × duplicate facet", "3 facets at fault are lit"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q: %s", want, text)
		}
	}
	p.do(chromedp.Click(`.turn-to[aria-label="turn it here: duplicate facet 1"]`), chromedp.WaitVisible("#mark"))
	far := look[float64](p, `(() => { const s = document.getElementById('stage').getBoundingClientRect(), m = document.getElementById('mark').getBoundingClientRect(); return Math.hypot(m.x + m.width / 2 - s.x - s.width / 2, m.y + m.height / 2 - s.y - s.height / 2); })()`)
	if far > 60 {
		t.Errorf("turned to, the facet lies %g pixels off the middle of the picture", far)
	}
}

// A mold half shows its hollows from above, with those numbers that hollows prints.
func TestMoldHalf(t *testing.T) {
	address, folder := start(t, "shadmold/plain-half.stl")
	p := openTab(t, address)
	p.settle()
	p.do(chromedp.SetValue("#kind", "half"), chromedp.Evaluate(`document.getElementById('reading').dispatchEvent(new Event('change'))`, nil), chromedp.WaitVisible("#half svg"))
	out, complaint := program(t, folder, "hollows", "--json", "shadmold/plain-half.stl")
	if complaint != "" {
		t.Fatal(complaint)
	}
	var half any
	if err := json.Unmarshal(out, &half); err != nil {
		t.Fatal(err)
	}
	rows := look[[][]string](p, `[...document.querySelectorAll('#hollows tr')].slice(1).map(r => [...r.children].map(c => (c.querySelector('span') ?? c).textContent))`)
	list, _ := at(half, "hollows").([]any)
	if len(rows) != len(list) || len(rows) == 0 {
		t.Fatalf("%d rows for %d hollows", len(rows), len(list))
	}
	for i, h := range list {
		volume, _ := at(h, "volume_mm3").(float64)
		if got := parse(t, strings.TrimSuffix(rows[i][2], " mm³")); math.Abs(got-volume) > 0.0500001 {
			t.Errorf("hollow %s holds %s, hollows --json says %g", rows[i][0], rows[i][2], volume)
		}
	}
	cells := look[[][2]string](p, `[...document.querySelectorAll('#hollows [data-hollow]')].map(c => [c.dataset.hollow, c.textContent])`)
	if len(cells) != 4*len(rows) {
		t.Errorf("%d numbers in %d rows", len(cells), len(rows))
	}
	for _, c := range cells {
		sameNumber(t, c[0], c[1], at(half, c[0]))
	}
	if got := look[string](p, `document.getElementById('refusal').textContent`); got != "" {
		t.Errorf("the page says %q", got)
	}
}

// Two tabs are two works.
func TestTwoTabs(t *testing.T) {
	address, folder := start(t, "paddletail/mold.yaml")
	a, b := openTab(t, address), openTab(t, address)
	a.settle()
	b.settle()
	a.do(chromedp.Focus("#knob"), chromedp.KeyEvent(kb.PageUp))
	a.settle()
	share := `document.querySelector('#sheet [data-key="line.asked_share"]').textContent`
	if x, y := look[string](a, share), look[string](b, share); x == y || y != "40/60" {
		t.Errorf("one tab wants %s, the other, untouched, %s", x, y)
	}
	sameNumbers(t, b, pourJSON(t, folder, "paddletail/mold.yaml"))
	a.do(chromedp.Navigate("about:blank")) // the tab is left
	b.do(chromedp.Focus("#knob"), chromedp.KeyEvent(kb.ArrowDown))
	b.settle()
	if got := look[string](b, `document.getElementById('refusal').textContent`); got != "" {
		t.Errorf("the other tab was left, and this one says %q", got)
	}
}

// Everything can be reached and done without a mouse.
func TestKeyboardOnly(t *testing.T) {
	address, _ := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	reached := map[string]bool{}
	const most = 90
	for range most {
		p.do(chromedp.KeyEvent(kb.Tab))
		reached[look[string](p, `(e => e.id || e.dataset.save || e.dataset.view || e.textContent)(document.activeElement)`)] = true
	}
	for _, id := range []string{"files", "knob", "share", "height", "fore", "side", "injector", "vessel", "cavities", "baits", "barrel-0", "pour-1", "dose-0-1", "card", "mold", "belly", "back", "side", "kind", "unit", "mend"} {
		if !reached[id] {
			t.Errorf("the tabulator does not reach %s", id)
		}
	}
	p.do(chromedp.Focus("#knob"))
	before := parse(t, look[string](p, `document.getElementById('knob').getAttribute('aria-valuenow')`))
	p.do(chromedp.KeyEvent(kb.ArrowUp))
	p.settle()
	after := parse(t, look[string](p, `document.getElementById('knob').getAttribute('aria-valuenow')`))
	if !(after > before) {
		t.Errorf("the arrow key moved the line from %g to %g", before, after)
	}
	if text := look[string](p, `document.getElementById('knob').getAttribute('aria-valuetext')`); !strings.Contains(text, "belly to back") {
		t.Errorf("a screen reader hears %q", text)
	}
}

// The saved card prints on one page and holds every cup and dose that pour prints.
func TestSavedCardPrintsOnOnePage(t *testing.T) {
	pdftotext, err := exec.LookPath("pdftotext")
	need(t, err == nil, "there is no pdftotext to read what was printed")
	address, folder := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	card := p.save("card")
	text, err := os.ReadFile(card)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "card.html")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	pdf := p.print("file://"+file, [2]float64{8.5, 11})
	if n := len(regexp.MustCompile(`/Type\s*/Page\b[^s]`).FindAll(pdf, -1)); n != 1 {
		t.Errorf("the card prints on %d pages", n)
	}
	printed := filepath.Join(folder, "card.pdf")
	if err := os.WriteFile(printed, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(pdftotext, "-layout", printed, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	sheet := strings.Join(strings.Fields(string(out)), " ")
	colours, _ := at(pourJSON(t, folder, "paddletail/mold.yaml"), "heatings.0.colours").([]any)
	doses := 0
	for _, c := range colours {
		words := []any{at(c, "cups_text")}
		list, _ := at(c, "doses").([]any)
		for _, d := range list {
			words = append(words, at(d, "measure"), at(d, "additive"))
			doses++
		}
		for _, w := range words {
			if word, ok := w.(string); !ok || !strings.Contains(sheet, word) {
				t.Errorf("the printed card lacks %v", w)
			}
		}
	}
	if doses != 5 { // pearl and salt in belly; green, flake and salt in back
		t.Errorf("%d doses were looked for, the mold file has 5", doses)
	}
}

// axeVariable names the file of axe-core, which is other people's work and so not in
// the repository; .ci/run fetches it.
const axeVariable = "BELLYLINE_AXE"

// axe-core finds no serious fault, on a desk and on a phone, light and dark.
func TestAccessibility(t *testing.T) {
	file := os.Getenv(axeVariable)
	need(t, file != "", axeVariable+" does not name the file axe.min.js of axe-core")
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, what := range []string{"a drawn line", "facets at fault", "nothing open"} {
		args := map[string][]string{"a drawn line": {"paddletail/mold.yaml"}}[what]
		address, folder := start(t, args...)
		p := openTab(t, address)
		switch what {
		case "a drawn line":
			p.settle()
			p.set("line-kind", "drawn")
		case "facets at fault":
			p.choose(faults(t, folder))
			p.do(chromedp.WaitVisible("#problems .turn-to"), chromedp.Click(".turn-to"), chromedp.WaitVisible("#mark"))
		}
		for _, width := range []int64{1280, 390} {
			for _, scheme := range []string{"light", "dark"} {
				p.do(chromedp.EmulateViewport(width, 900), emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}))
				if wide := look[float64](p, `document.documentElement.scrollWidth`); wide > float64(width) {
					t.Errorf("at %d pixels the page is %g wide", width, wide)
				}
				p.do(chromedp.Evaluate(string(axe), nil))
				var found string
				p.do(chromedp.Evaluate(`axe.run(document).then(r => JSON.stringify(r.violations.map(v => ({id: v.id, impact: v.impact, help: v.help, at: v.nodes.map(n => n.html).slice(0, 3)}))))`, &found,
					chromedp.EvalAsValue, awaitPromise))
				var faults []struct {
					ID, Impact, Help string
					At               []string
				}
				if err := json.Unmarshal([]byte(found), &faults); err != nil {
					t.Fatal(err)
				}
				for _, f := range faults {
					if f.Impact == "serious" || f.Impact == "critical" {
						t.Errorf("%s, %d pixels, %s: %s (%s): %q", what, width, scheme, f.Help, f.ID, f.At)
					} else {
						t.Logf("%s, %d pixels, %s: %s: %s %q", what, width, scheme, f.Impact, f.Help, f.At)
					}
				}
			}
		}
	}
}

func awaitPromise(p *runtime.EvaluateParams) *runtime.EvaluateParams {
	return p.WithAwaitPromise(true)
}
