package inbrowser

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// picturesVariable names a folder to put pictures of the page into, for people to
// look at. Without it there is nothing to do.
const picturesVariable = "BELLYLINE_PICTURES"

// The page on a desk and on a phone, light and dark, of a bait, a broken model, a
// mold half and nothing at all. It passes if the pictures are not of one colour.
func TestPictures(t *testing.T) {
	folder := os.Getenv(picturesVariable)
	if folder == "" {
		t.Skip(picturesVariable + " names no folder for pictures to look at")
	}
	address, examples := start(t)
	p := openTabFor(t, address, 10*patience)
	shoot := func(name string) {
		for _, width := range []int64{1280, 390} {
			for _, scheme := range []string{"light", "dark"} {
				var png []byte
				p.do(chromedp.EmulateViewport(width, 900), emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
					chromedp.FullScreenshot(&png, 100))
				if len(png) < 10_000 {
					t.Errorf("%s at %d, %s: a picture of %d bytes shows nothing", name, width, scheme, len(png))
				}
				if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%d-%s.png", name, width, scheme)), png, 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	shoot("empty")
	p.choose(filepath.Join(examples, "paddletail", "mold.yaml"), filepath.Join(examples, "shop.yaml"), filepath.Join(examples, "paddletail", "bait.stl"), filepath.Join(examples, "paddletail", "runner.stl"))
	p.do(chromedp.WaitVisible("#work"))
	p.settle()
	shoot("bait")
	p.set("injector", "hand pair")
	p.drag("#tilt-knob", 0, 25)
	p.partsSettle()
	shoot("tilted")
	for _, kind := range []string{"drawn", "layers", "stripe"} {
		p.set("line-kind", kind)
		if kind == "drawn" {
			p.drag("#point-1", 0, -30)
			p.partsSettle()
		}
		shoot(kind)
	}
	p.choose(faults(t, examples))
	p.do(chromedp.WaitVisible("#problems .turn-to"), chromedp.Click(".turn-to"), chromedp.WaitVisible("#mark"))
	shoot("faults")
	p.choose(filepath.Join(examples, "shadmold", "plain-half.stl"))
	p.do(chromedp.Poll(`document.getElementById('title').textContent === 'plain-half' && document.querySelector('#numbers[aria-busy=false]')`, nil), chromedp.Evaluate(`document.getElementById('kind').value = 'half'; document.getElementById('reading').dispatchEvent(new Event('change'))`, nil), chromedp.WaitVisible("#half-part"))
	shoot("half")
}
