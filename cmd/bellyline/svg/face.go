package svg

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"bellyline/cavity/hollow"
)

// depthColours are those of the depth bands, from shallow to deep.
var depthColours = [...]string{"#d6ecf7", "#b3d9ee", "#8cc2e3", "#63a8d4", "#418bc0", "#2a6ea8", "#1c5289", "#133a67", "#0b2547"}

// drawing writes SVG in mm, y upwards.
type drawing struct {
	b      strings.Builder
	bottom float64 // y of the half's frame at the lower edge of the picture, plus its height
}

func (d *drawing) addf(format string, args ...any) { fmt.Fprintf(&d.b, format+"\n", args...) }

func (d *drawing) y(y float64) float64 { return d.bottom - y }

// PartingFace draws the parting face of a mold half seen from above as SVG: the
// block's outline, each hollow shaded by depth and numbered as in the table, gates
// marked.
func PartingFace(w io.Writer, h *hollow.Half) error {
	const edge, legend = 6.0, 30.0 // mm
	lo, hi := rectangle(h.Outline)
	width, height := hi.X-lo.X+2*edge+legend, hi.Y-lo.Y+2*edge+8
	d := &drawing{bottom: hi.Y + edge}
	d.addf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="%.2f %.2f %.2f %.2f" width="%.1fmm" height="%.1fmm" font-family="sans-serif">`,
		lo.X-edge, 0.0, width, height, width, height)
	d.addf(`<title>%s</title>`, escaped("parting face of "+h.File))
	d.addf(`<defs><pattern id="through" width="1.5" height="1.5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="1.5" height="1.5" fill="#ffffff"/><path d="M0 0V1.5" stroke="#333333" stroke-width="0.4"/></pattern></defs>`)
	d.addf(`<rect x="%.2f" y="0" width="%.2f" height="%.2f" fill="#ffffff"/>`, lo.X-edge, width, height)
	d.addf(`<path class="block" d="%s" fill="#e8e6e1" stroke="#333333" stroke-width="0.5"/>`, d.path(h.Outline))
	picture := h.Picture()
	d.bands(picture)
	for _, o := range h.Hollows {
		d.hollow(o)
	}
	for _, o := range h.Hollows { // over all outlines
		if o.Kind == hollow.Cavity {
			d.gates(o)
		}
	}
	for _, o := range h.Hollows {
		d.number(o)
	}
	d.legend(picture, hi.X+edge, hi.Y)
	d.ruler(lo.X, lo.Y-edge)
	d.addf(`</svg>`)
	_, err := io.WriteString(w, d.b.String())
	return err
}

func rectangle(outline []r2.Point) (lo, hi r2.Point) {
	r := r2.RectFromPoints(outline...)
	return r.Lo(), r.Hi()
}

// path draws a closed polygon.
func (d *drawing) path(polygon []r2.Point) string {
	var b strings.Builder
	for i, p := range polygon {
		fmt.Fprintf(&b, "%c%.3f %.3f", "ML"[min(i, 1)], p.X, d.y(p.Y))
	}
	return b.String() + "Z"
}

// bands draws depths as rows of little rectangles, one path a band.
func (d *drawing) bands(p hollow.Picture) {
	for i, runs := range p.Runs {
		if len(runs) == 0 {
			continue
		}
		var b strings.Builder
		for _, r := range runs {
			// A hair taller than its row, or the rows would show.
			fmt.Fprintf(&b, "M%.2f %.2fh%.2fv%.2fh%.2fz", r.XMM, d.y(r.YMM+r.HeightMM), r.LengthMM, r.HeightMM*1.05, -r.LengthMM)
		}
		d.addf(`<path class="depth" fill="%s" d="%s"/>`, bandColour(i, len(p.Runs)), b.String())
	}
}

func bandColour(i, of int) string {
	return depthColours[i*(len(depthColours)-1)/max(1, of-1)]
}

func (d *drawing) hollow(o hollow.Hollow) {
	var all []string
	for _, l := range o.Outlines {
		all = append(all, d.path(l))
	}
	fill := "none"
	if o.Through && o.Kind == hollow.Hole {
		fill = "url(#through)"
	}
	d.addf(`<path class="%s" d="%s" fill="%s" fill-rule="evenodd" stroke="#222222" stroke-width="0.3"/>`, o.Kind, strings.Join(all, ""), fill)
}

// gates marks each gate by its line and its width.
func (d *drawing) gates(o hollow.Hollow) {
	for _, g := range o.Gates {
		a, b := g.EndsMM[0], g.EndsMM[1]
		d.addf(`<path class="gate" d="M%.3f %.3fL%.3f %.3f" stroke="#d4261c" stroke-width="0.7" stroke-linecap="round"/>`, a[0], d.y(a[1]), b[0], d.y(b[1]))
	}
}

func (d *drawing) number(o hollow.Hollow) {
	const size = 4.0 // mm
	d.addf(`<text class="number" x="%.2f" y="%.2f" font-size="%.1f" text-anchor="middle" stroke="#ffffff" stroke-width="0.9" paint-order="stroke" fill="#111111">%d</text>`,
		o.CentreMM[0], d.y(o.CentreMM[1])+size/3, size, o.ID)
}

// legend draws the scale of depths to the right of the block.
func (d *drawing) legend(p hollow.Picture, x, top float64) {
	const size, step = 3.0, 5.0
	d.addf(`<text x="%.2f" y="%.2f" font-size="%.1f" fill="#111111">depth, mm</text>`, x, d.y(top)+size, size)
	for i, from := range p.Bands {
		y := d.y(top) + size + 2 + float64(i)*step
		d.addf(`<rect x="%.2f" y="%.2f" width="6" height="%.1f" fill="%s" stroke="#333333" stroke-width="0.15"/>`, x, y, step, bandColour(i, len(p.Bands)))
		d.addf(`<text x="%.2f" y="%.2f" font-size="%.1f" fill="#111111">%g to %g</text>`, x+7.5, y+step*0.7, size, rounded(from), rounded(from+p.StepMM))
	}
	y := d.y(top) + size + 2 + float64(len(p.Bands))*step + 4
	d.addf(`<path d="M%.2f %.2fh6" stroke="#d4261c" stroke-width="0.7"/><text x="%.2f" y="%.2f" font-size="%.1f" fill="#111111">gate</text>`, x, y, x+7.5, y+1, size)
}

// ruler draws 20 mm below the block.
func (d *drawing) ruler(x, y float64) {
	d.addf(`<path d="M%.2f %.2fv-2m0 1h20m0 -1v2" stroke="#333333" stroke-width="0.3" fill="none"/><text x="%.2f" y="%.2f" font-size="3" fill="#111111">20 mm</text>`,
		x, d.y(y)+4, x+22, d.y(y)+4)
}

// rounded takes the noise of sums off a round number.
func rounded(x float64) float64 { return math.Round(x*1e6) / 1e6 }
