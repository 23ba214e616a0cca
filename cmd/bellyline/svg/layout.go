package svg

import (
	"fmt"
	"io"

	"bellyline/cavity/layout"
)

const layoutStyle = `
.page{fill:#fff}
text{font:13px sans-serif;fill:#222}
.small{font-size:11px}
.block{fill:#e8e6e1;stroke:#333;stroke-width:1.5}
.bait{fill:#4d8a72;stroke:#222;stroke-width:1}
.runner{fill:#efd9a7;stroke:#222;stroke-width:1}
.pin{fill:#fff;stroke:#222;stroke-width:1}
.bolt{fill:#fff;stroke:#222;stroke-width:1;stroke-dasharray:3 2}
.vent{stroke:#c2251d;stroke-width:1.5;fill:none}
.number{font-size:13px;font-weight:bold;text-anchor:middle;fill:#fff;stroke:#1d3b30;stroke-width:3;paint-order:stroke}
.size{stroke:#555;stroke-width:1;fill:none}
`

// Layout draws the parting face of a mold from above, with its dimensions in mm.
func Layout(w io.Writer, r *layout.Result) error {
	l := r.Layout
	const side, top, below = 90.0, 70.0, 150.0
	scale := (pageWide - 2*side) / max(l.BlockMM[0], l.BlockMM[1])
	c := &canvas{wide: pageWide, tall: top + l.BlockMM[1]*scale + below}
	v := view{scale: scale, left: side, base: top + l.BlockMM[1]*scale}
	c.text("", point{side, 28}, "%d cavities, block %.0f x %.1f x %.1f mm, seen on the parting face", r.Cavities, l.BlockMM[0], l.BlockMM[1], l.BlockMM[2])
	c.polygon("block", rectangleOf(v, 0, 0, l.BlockMM[0], l.BlockMM[1]))
	c.runner(v, r)
	for _, loops := range r.Outlines {
		var drawn [][]point
		for _, loop := range loops {
			var points []point
			for _, p := range loop {
				points = append(points, v.at(p.X, p.Y))
			}
			drawn = append(drawn, points)
		}
		if len(drawn) > 0 {
			c.polygon("bait", drawn...)
		}
	}
	for _, vent := range l.Vents {
		for i, to := range vent.PathMM[1:] {
			from := vent.PathMM[i]
			c.line("vent", v.at(from[0], from[1]), v.at(to[0], to[1]))
		}
	}
	for class, holes := range map[string][]layout.Round{"pin": l.Pins, "bolt": l.Bolts} {
		for _, hole := range holes {
			at := v.at(hole.XMM, hole.YMM)
			c.element(`<circle class="%s" cx="%.2f" cy="%.2f" r="%.2f"/>`, class, at.x, at.y, hole.DiameterMM/2*scale)
		}
	}
	for i, at := range l.Places { // in the thick end, beside the gate
		const inside = 0.15 // of the length
		y := at.MinMM[1] + inside*(at.MaxMM[1]-at.MinMM[1])
		if at.Turned {
			y = at.MaxMM[1] - inside*(at.MaxMM[1]-at.MinMM[1])
		}
		p := v.at(at.XMM, y)
		c.text("number", point{p.x, p.y + 5}, "%d", i+1)
	}
	c.dimensions(v, r)
	return c.write(w, fmt.Sprintf("layout of %s", r.File), layoutStyle)
}

func rectangleOf(v view, x0, y0, x1, y1 float64) []point {
	return []point{v.at(x0, y0), v.at(x1, y0), v.at(x1, y1), v.at(x0, y1)}
}

// runner draws the runner and the gates.
func (c *canvas) runner(v view, r *layout.Result) {
	l, d := r.Layout, r.Runner.DiameterMM
	axis := l.AxisMM
	for i, p := range l.Places {
		g := r.Runner.GatesMM[i/l.Rows] / 2
		end := axis + d/2 + r.Runner.LandMM
		if p.Turned {
			end = axis - d/2 - r.Runner.LandMM
		}
		c.polygon("runner", rectangleOf(v, p.XMM-g, axis, p.XMM+g, end))
	}
	c.polygon("runner", rectangleOf(v, 0, axis-d/2, r.Runner.LengthMM, axis+d/2))
}

// dimensions writes sizes beside the block, and a table of the rest below.
func (c *canvas) dimensions(v view, r *layout.Result) {
	l := r.Layout
	x, y := l.BlockMM[0], l.BlockMM[1]
	away := 16 / v.scale
	c.line("size", v.at(0, -away), v.at(x, -away))
	c.text("small", v.at(x/2, -away-14/v.scale), "%.0f", x)
	c.line("size", v.at(x+away, 0), v.at(x+away, y))
	c.text("small", v.at(x+away+6/v.scale, y/2), "%.1f", y)
	c.line("size", v.at(0, y+away/2), v.at(l.FirstMM, y+away/2))
	c.text("small", v.at(0, y+away/2+6/v.scale), "%.1f", l.FirstMM)
	if l.Columns > 1 {
		c.line("size", v.at(l.FirstMM, y+away), v.at(l.FirstMM+l.PitchMM, y+away))
		c.text("small", v.at(l.FirstMM+l.PitchMM/2, y+away+6/v.scale), "%.1f", l.PitchMM)
	}
	c.line("size", v.at(-away, 0), v.at(-away, l.AxisMM))
	c.text("small", v.at(-away-44/v.scale, l.AxisMM/2), "%.1f", l.AxisMM)
	low := v.base + 62
	c.text("small", point{v.left, low}, "runner %.1f mm round, %.1f mm long; gates from the sprue on: %s mm round, %.1f mm long", r.Runner.DiameterMM, r.Runner.LengthMM, gateList(r.Runner.GatesMM), r.Runner.LandMM)
	c.text("small", point{v.left, low + 18}, "halves %.1f and %.1f mm thick; runner and gates half in each; pins %.1f mm (full circles), bolts %.1f mm (dashed)", l.HalvesMM[0], l.HalvesMM[1], r.Practice.PinMM, r.Practice.BoltMM)
	c.text("small", point{v.left, low + 36}, "vents (red) at %d of %d tips of each cavity: %.2f mm deep, %.1f mm wide; sprue at the left edge", l.VentedTips(), len(l.Tips), r.Practice.VentMM, r.Practice.VentWideMM)
	c.text("small", point{v.left, low + 54}, "sizes from common practice: check them against your mill and your injector")
}

func gateList(gates []float64) string {
	text := ""
	for i, g := range gates {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%.1f", g)
	}
	return text
}
