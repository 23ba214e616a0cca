package inbrowser

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

var number = regexp.MustCompile(`-?\d+(\.\d+)?`)

// sameNumbers compares every number on the page with the JSON of pour at its key, to
// half of the last digit shown.
func sameNumbers(t *testing.T, p *tab, pour any) {
	t.Helper()
	cells := look[[][2]string](p, `[...document.querySelectorAll('#sheet [data-key]')].map(c => [c.dataset.key, c.textContent])`)
	if len(cells) < 30 {
		t.Errorf("only %d numbers are on the page", len(cells))
	}
	for _, c := range cells {
		key, text := c[0], c[1]
		want, ok := at(pour, key).(float64)
		first, last := number.FindString(text), ""
		if strings.HasSuffix(key, "_share") { // belly to back, in hundredths
			want, last = want*100, "/"
		}
		got, err := strconv.ParseFloat(first, 64)
		if !ok || err != nil || !strings.Contains(text, last) {
			t.Errorf("%s shows %q for %v", key, text, at(pour, key))
			continue
		}
		if strings.Contains(text, " kg") {
			want /= 1000
		}
		_, fraction, _ := strings.Cut(first, ".")
		if math.Abs(got-want) > 0.500001*math.Pow(10, -float64(len(fraction))) {
			t.Errorf("%s shows %q, pour --json says %.9g", key, text, want)
		}
	}
}

// sameNumber compares the first number of a text with a value, to half of the last
// digit shown.
func sameNumber(t testing.TB, key, text string, value any) {
	t.Helper()
	want, ok := value.(float64)
	first := number.FindString(text)
	got, err := strconv.ParseFloat(first, 64)
	_, fraction, _ := strings.Cut(first, ".")
	if !ok || err != nil || math.Abs(got-want) > 0.500001*math.Pow(10, -float64(len(fraction))) {
		t.Errorf("%s shows %q, the command says %v", key, text, value)
	}
}

// at finds a value in decoded JSON: "shot.colours.0.total_ml".
func at(v any, key string) any {
	for part := range strings.SplitSeq(key, ".") {
		switch x := v.(type) {
		case map[string]any:
			v = x[part]
		case []any:
			i, err := strconv.Atoi(part)
			if err != nil || i >= len(x) {
				return nil
			}
			v = x[i]
		default:
			return nil
		}
	}
	return v
}

// drag pulls an element by some pixels, in steps, as a hand does.
func (p *tab) drag(selector string, dx, dy float64) {
	p.t.Helper()
	place := look[[2]float64](p, `(() => { const e = document.querySelector('`+selector+`'); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	const steps = 20
	p.do(chromedp.MouseEvent(input.MousePressed, place[0], place[1], chromedp.ButtonLeft))
	for i := 1; i <= steps; i++ {
		k := float64(i) / steps
		p.do(chromedp.MouseEvent(input.MouseMoved, place[0]+k*dx, place[1]+k*dy, chromedp.ButtonLeft))
	}
	p.do(chromedp.MouseEvent(input.MouseReleased, place[0]+dx, place[1]+dy, chromedp.ButtonLeft))
}

// The page shows what pour prints; after the line was dragged it shows what pour
// prints for the mold file that the page then saves.
func TestNumbersAreThoseOfPour(t *testing.T) {
	for _, mold := range []string{"paddletail/mold.yaml", "clawcraw/laminate.yaml"} {
		address, folder := start(t, mold)
		p := openTab(t, address)
		p.settle()
		sameNumbers(t, p, pourJSON(t, folder, mold))
		before := look[string](p, `document.getElementById('height').value`)
		p.drag("#knob", 0, -25)
		p.settle()
		after := look[string](p, `document.getElementById('height').value`)
		if h0, h1 := parse(t, before), parse(t, after); !(h1 > h0+0.5) {
			t.Errorf("%s: dragged up, the line went from %s to %s mm", mold, before, after)
		}
		text, err := os.ReadFile(p.save("mold"))
		if err != nil {
			t.Fatal(err)
		}
		saved := filepath.Join(filepath.Dir(mold), "saved.yaml")
		if err := os.WriteFile(filepath.Join(folder, saved), text, 0o600); err != nil {
			t.Fatal(err)
		}
		sameNumbers(t, p, pourJSON(t, folder, saved))
		if !strings.Contains(string(text), "line: {height: ") {
			t.Errorf("%s: the saved file holds no height:\n%s", mold, text)
		}
	}
}

func parse(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Every field changes what it names; what was typed wrongly is refused in words and
// leaves no number on the page.
func TestFieldsChangeThePour(t *testing.T) {
	address, _ := start(t, "paddletail/mold.yaml")
	p := openTab(t, address)
	p.settle()
	cell := func(key string) string {
		return look[string](p, `document.querySelector('#sheet [data-key="`+key+`"]')?.textContent ?? ''`)
	}
	change := func(id, value string) {
		t.Helper()
		p.do(chromedp.Evaluate(`{ const e = document.getElementById('`+id+`'); e.value = '`+value+`'; e.dispatchEvent(new Event('change', {bubbles: true})); }`, nil))
		p.settle()
	}
	change("baits", "100")
	if got := cell("order.baits"); got != "100" {
		t.Errorf("100 baits: the order is %q", got)
	}
	change("share", "55/45")
	if got := cell("line.asked_share"); got != "55/45" {
		t.Errorf("55/45: wanted is %q", got)
	}
	change("injector", "hand pair")
	if got := cell("line.delivered_share"); got != "55/45" {
		t.Errorf("two plungers give %q of 55/45", got)
	}
	change("pour-0", "171C")
	if got := cell("setup.0.pour_c"); got != "171 C" {
		t.Errorf("171C: poured at %q", got)
	}
	change("vessel", "pint cup")
	unsalted := parse(t, strings.TrimSuffix(cell("shot.colours.0.mass_g"), " g"))
	change("dose-0-1", "1/2 cup") // salt, four times as much
	if got := parse(t, strings.TrimSuffix(cell("shot.colours.0.mass_g"), " g")); !(got > unsalted) {
		t.Errorf("with more salt a shot of belly weighs %g g, before %g", got, unsalted)
	}
	before := parse(t, look[string](p, `document.getElementById('height').value`))
	change("fore", "5")
	if got := cell("line.asked_share"); got != "55/45" {
		t.Errorf("tilted, the share went to %q", got)
	}
	if now := parse(t, look[string](p, `document.getElementById('height').value`)); now == before {
		t.Error("a tilted line lies at the same height to four digits")
	}
	change("dose-0-1", "a lot")
	if got := look[string](p, `document.getElementById('refusal').textContent`); got != `salt: amount "a lot": no number; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %` {
		t.Errorf("refused with %q", got)
	}
	if got := look[int](p, `document.querySelectorAll('#sheet [data-key]').length`); got != 0 {
		t.Errorf("%d numbers stand beside a refusal", got)
	}
}
