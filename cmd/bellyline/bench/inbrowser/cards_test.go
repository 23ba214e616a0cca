package inbrowser

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// threeColours is a mold file of three colours from plungers that are pushed one by one.
const threeColours = `shop: shop.yaml
bait: three colour swimmer
mold: twin swimmer
model: paddletail/bait.stl
cavities: 2
feed:
  runner: {model: paddletail/runner.stl}
injector: trio
vessel: quart cup
line: {shares: 20/50/30}
colours:
  - {name: belly, material: soft, barrel: a, half: lower half, mix: {pearl: 1/4 tsp}}
  - {name: side, material: soft, barrel: b, mix: {salt: 1/8 cup}}
  - {name: back, material: soft, barrel: c, half: upper half, mix: {green: 8 drops}}
`

const trio = `injectors:
  trio:
    drive: independent
    barrels:
      a: {bore: 1 1/4 in, holds: 6 fl oz, keeps: 4 mL}
      b: {bore: 1 1/4 in, holds: 6 fl oz, keeps: 4 mL}
      c: {bore: 1 1/4 in, holds: 6 fl oz, keeps: 4 mL}
`

// Cards of one, two and three colours print on one sheet of either size. The three
// colours in two heatings once took a second sheet, for one warning.
func TestCardsPrintOnOneSheet(t *testing.T) {
	need(t, made.browser != nil, "there is no chromium to print with")
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "..", "..", "examples"))); err != nil {
		t.Fatal(err)
	}
	shop, err := os.ReadFile(filepath.Join(folder, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	with := strings.Replace(string(shop), "injectors:\n", trio, 1)
	for name, text := range map[string]string{"shop.yaml": with, "three.yaml": threeColours} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	ctx, end := chromedp.NewContext(made.browser)
	t.Cleanup(end)
	ctx, stop := context.WithTimeout(ctx, patience)
	t.Cleanup(stop)
	p := &tab{t: t, ctx: ctx}
	for _, args := range [][]string{
		{"three.yaml", "--baits", "60"}, {"three.yaml", "--baits", "220"},
		{"paddletail/mold.yaml", "--baits", "100"}, {"ringgrub/mold.yaml"}, {"clawcraw/mold.yaml"},
		{"clawcraw/laminate.yaml"}, {"shadmold/mold.yaml"}, {"weighed.yaml"},
	} {
		c := exec.CommandContext(t.Context(), made.program, append([]string{"pour", "--html", "card.html"}, args...)...)
		c.Dir, c.Stderr = folder, os.Stderr
		if err := c.Run(); err != nil {
			t.Fatal(err)
		}
		for sheet, inches := range map[string][2]float64{"letter": {8.5, 11}, "A4": {8.27, 11.69}} {
			pdf := p.print("file://"+filepath.Join(folder, "card.html"), inches)
			if n := len(regexp.MustCompile(`/Type\s*/Page\b[^s]`).FindAll(pdf, -1)); n != 1 {
				t.Errorf("the card of %v prints on %d pages of %s", args, n, sheet)
			}
		}
	}
}

// print prints a page on paper of a width and a height in inches.
func (p *tab) print(address string, inches [2]float64) (pdf []byte) {
	p.t.Helper()
	p.do(chromedp.Navigate(address), chromedp.ActionFunc(func(ctx context.Context) error {
		var err error
		pdf, _, err = page.PrintToPDF().WithPaperWidth(inches[0]).WithPaperHeight(inches[1]).WithPreferCSSPageSize(true).WithPrintBackground(false).Do(ctx)
		return err
	}))
	return pdf
}
