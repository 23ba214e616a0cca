package show

import (
	"fmt"
	"math"

	"bellyline/cavity/cool"
	"bellyline/cavity/units"

	"bellyline/cmd/bellyline/document"
)

// CoolText prints when a bait can be taken out, and how that was found.
func CoolText(p *Page, r *cool.Result) {
	p.Linef("%s", model(r.File))
	p.Wrapped("  ", "Hot plastisol burns and its fumes harm: the cautions on the pour card come before anything here. A bait that is opened too early is still liquid inside.")
	held := "a mold held at"
	if r.Block != nil {
		held = "a mold of"
	}
	p.Linef("\nOPEN AFTER")
	p.Linef("  filled at %s, %s %s, opened below %s", units.Celsius(r.MeltC), held, units.Celsius(r.MoldC), units.Celsius(r.OpenC))
	if r.TimeS == nil {
		p.Linef("  %s", cool.ErrNever)
	} else {
		p.Linef("  open after %s", seconds(*r.TimeS))
		p.Linef("  last to set: %s; the bait is then at %s in the mean", spot(r.LastSpotMM), units.Celsius(r.MeanAtOpeningC))
	}
	p.Linef("  thickest: a ball of %.2f mm round %s", r.ThickestMM, spot(r.ThickestAtMM))
	coolShots(p, r)
	coolCurve(p, r)
	coolTrust(p, r)
	for _, w := range r.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

// shownShots are the ones that people get; JSON has all.
var shownShots = [...]int{1, 2, 5, 10, 20, 50, 100}

func coolShots(p *Page, r *cool.Result) {
	if r.Block == nil {
		return
	}
	p.Linef("\nAS THE MOLD WARMS  (%s of metal, %d %s a shot, %s between)", units.Mass(r.Block.MassG), r.Block.Baits, document.Plural(r.Block.Baits, "bait"), seconds(r.Block.BetweenS))
	rows := [][]string{{"shot", "mold when filled", "open after", "mold when opened"}}
	for i, s := range r.Shots {
		last := i == len(r.Shots)-1
		for _, n := range shownShots {
			if s.Shot == n || last {
				after := s.Reason
				if s.OpenAfter != nil {
					after = seconds(*s.OpenAfter)
				}
				rows = append(rows, []string{fmt.Sprint(s.Shot), units.Celsius(s.MoldC).String(), after, units.Celsius(s.OpenedC).String()})
				break
			}
		}
	}
	p.Table(rows)
}

// shownMoments is how many lines of the curve people get.
const shownMoments = 8

func coolCurve(p *Page, r *cool.Result) {
	p.Linef("\nAS IT COOLS")
	rows := [][]string{{"after", "hottest", "mean"}}
	next := 0.0
	for i, m := range r.Curve {
		share := m.TimeS / r.Curve[len(r.Curve)-1].TimeS
		if share >= next || i == len(r.Curve)-1 {
			rows = append(rows, []string{fmt.Sprintf("%.1f s", m.TimeS), units.Celsius(m.HottestC).String(), units.Celsius(m.MeanC).String()})
			next += 1.0 / shownMoments
		}
	}
	p.Table(rows)
}

func coolTrust(p *Page, r *cool.Result) {
	p.Linef("\nHOW FAR TO TRUST IT")
	if r.Calibrated {
		p.Wrapped("  * ", fmt.Sprintf("the plastic's diffusivity was made to fit the shop's opening time: %.4f mm2/s", r.DiffusivityMM2S))
	} else {
		p.Wrapped("  * ", fmt.Sprintf("diffusivity %.4g mm2/s: published figures for soft vinyl run from 0.08 to 0.11, and the time goes with one over it; --opens-after with one time that you know replaces it", r.DiffusivityMM2S))
	}
	p.Wrapped("  * ", fmt.Sprintf("a wide plate as thick would take %.0f s, a ball %.0f s", r.PlateS, r.BallS))
	grid := fmt.Sprintf("grid of %.3g mm, %.1f cells from the thickest place to the wall, %d in all", r.GridMM, r.CellsToWall, r.Cells)
	if r.GridEffectS != nil {
		grid += fmt.Sprintf("; what it leaves open, by a grid of %.3g mm: %s s", r.CoarseGridMM, small(max(*r.GridEffectS, -*r.GridEffectS)))
	}
	p.Wrapped("  * ", grid)
	if r.Block == nil {
		p.Wrapped("  * ", "the mold stays as cold as it is: shot after shot it warms, see --block")
	} else {
		p.Wrapped("  * ", fmt.Sprintf("the block is one lump: it takes %.2f J/K for each gram, the plastic %.1f J/K for each mL (assumed), and loses %.2f W/K to air of %s",
			r.Block.HeatJPerGC, r.Block.PlasticJMLC, r.Block.LossWPerC, units.Celsius(r.Block.AirC)))
	}
}

// seconds prints a time: "95.3 s (1:35)".
func seconds(s float64) string {
	if s < 60 {
		return fmt.Sprintf("%.1f s", s)
	}
	whole := int(math.Round(s))
	return fmt.Sprintf("%.1f s (%d:%02d)", s, whole/60, whole%60)
}

// spot prints a point of the model to a tenth of a mm, with no minus before a zero.
func spot(p [3]float64) string {
	for i, x := range p {
		p[i] = math.Round(x*10)/10 + 0
	}
	return fmt.Sprintf("(%.1f, %.1f, %.1f) mm", p[0], p[1], p[2])
}
