package inbrowser

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// benchmarkDrags pulls a handle and takes the time from the pointer's event to the
// number's change on the page, by the browser's own clock. Each pull waits for the one
// before it, and a little longer, so that the picture is drawn as well.
const benchmarkDrags = `async (id, x, y, n) => {
  const handle = document.getElementById(id), numbers = document.getElementById('sheet'), took = [];
  for (let i = 0; i < n; i++) {
    const to = y + 40 * Math.sin(2.4 * (i + 1));
    await new Promise(done => {
      const began = performance.now();
      const seen = new MutationObserver(() => { seen.disconnect(); took.push(performance.now() - began); done(); });
      seen.observe(numbers, {subtree: true, childList: true, characterData: true});
      handle.dispatchEvent(new PointerEvent('pointermove', {clientX: x, clientY: to, bubbles: true}));
    });
    await new Promise(done => setTimeout(done, 40));
  }
  return took;
}`

// BenchmarkDragToNumber tells how long a number takes to follow the hand: milliseconds
// at the median and at 95 of 100 pulls.
//
//	go test ./cmd/bellyline/bench/inbrowser -run '^$' -bench DragToNumber -benchtime 100x
func BenchmarkDragToNumber(b *testing.B) {
	small, large := ellipsoid(100_000, 0), ellipsoid(1_000_000, 0)
	for _, model := range []struct {
		name string
		data [][]byte
	}{
		{"100k", [][]byte{small}}, {"1M", [][]byte{large}}, {"overlapping-20k", [][]byte{ellipsoid(10_000, 0), ellipsoid(10_000, 18)}},
		{"overlapping-100k", [][]byte{ellipsoid(50_000, 0), ellipsoid(50_000, 18)}},
	} {
		b.Run(model.name, func(b *testing.B) {
			address, folder := start(b)
			file := filepath.Join(folder, "bait.stl")
			if err := os.WriteFile(file, joined(model.data...), 0o600); err != nil {
				b.Fatal(err)
			}
			p := openTabFor(b, address, 20*time.Minute)
			p.do(chromedp.SetUploadFiles("#files", []string{file}, chromedp.NodeReady), chromedp.WaitVisible("#sheet table"))
			p.settle()
			for _, pull := range []struct{ name, kind, handle string }{{"level", "straight", "knob"}, {"tilt", "straight", "tilt-knob"}, {"drawn", "drawn", "point-1"}} {
				b.Run(pull.name, func(b *testing.B) { p.benchmark(b, pull.kind, pull.handle) })
			}
		})
	}
}

func (p *tab) benchmark(b *testing.B, kind, handle string) {
	p.do(chromedp.Evaluate(`{ const e = document.getElementById('line-kind'); e.value = '`+kind+`'; e.dispatchEvent(new Event('change')); }`, nil))
	p.settle()
	at := look[[2]float64](p, `(() => { const e = document.getElementById('`+handle+`'); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	p.do(chromedp.MouseEvent(input.MousePressed, at[0], at[1], chromedp.ButtonLeft))
	var took []float64
	b.ResetTimer()
	p.do(chromedp.Evaluate(fmt.Sprintf("(%s)(%q, %g, %g, %d)", benchmarkDrags, handle, at[0], at[1], b.N), &took, awaitPromise))
	b.StopTimer()
	p.do(chromedp.MouseEvent(input.MouseReleased, at[0], at[1], chromedp.ButtonLeft))
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms-median")
	b.ReportMetric(took[len(took)*95/100], "ms-95%")
	b.ReportMetric(0, "ns/op")
}

// ellipsoid is a closed body of about n facets, 60 x 24 x 16 mm, moved ahead.
func ellipsoid(n int, ahead float32) []byte {
	rings := int(math.Sqrt(float64(n) / 4))
	at := func(ring, segment int) [3]float32 {
		a, b := math.Pi*float64(ring)/float64(rings), math.Pi*float64(segment%(2*rings))/float64(rings)
		across := math.Sin(a)
		if ring == rings {
			across = 0 // a last bit would leave a hole
		}
		return [3]float32{float32(30*math.Cos(a)) + ahead, float32(12 * across * math.Cos(b)), float32(8 * across * math.Sin(b))}
	}
	var out []byte
	facet := func(corners ...[3]float32) {
		out = append(out, make([]byte, 12)...)
		for _, p := range corners {
			for _, x := range p {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(x))
			}
		}
		out = append(out, 0, 0)
	}
	for r := range rings {
		for k := range 2 * rings {
			a, b, c, d := at(r, k), at(r+1, k), at(r+1, k+1), at(r, k+1)
			if r > 0 {
				facet(a, c, d)
			}
			if r < rings-1 {
				facet(a, b, c)
			}
		}
	}
	return out
}

// joined makes one binary STL of the facets of bodies.
func joined(bodies ...[]byte) []byte {
	all := slices.Concat(bodies...)
	return append(binary.LittleEndian.AppendUint32(make([]byte, 80), uint32(len(all)/50)), all...)
}
