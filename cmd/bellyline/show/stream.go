package show

import (
	"fmt"
	"math"
	"slices"

	"bellyline/cavity/units"
	"bellyline/laminate/stream"
)

// StreamText prints where the line lands, what moves it, and what to do.
func StreamText(p *Page, r *stream.Result) {
	p.Linef("%s", model(r.File))
	p.Wrapped("  ", "Hot plastisol burns and its fumes harm: the cautions on the pour card come before anything here.")
	streamDelivered(p, r)
	streamLine(p, r)
	streamSkin(p, r)
	streamEffects(p, r)
	streamAgree(p, r)
	streamFilling(p, r)
	for i, w := range r.Warnings {
		if i == 0 {
			p.Linef("\nWARNINGS")
		}
		p.Wrapped("  ! ", w)
	}
	p.Linef("\nWHAT THIS LEAVES OUT")
	for _, l := range r.Limits {
		p.Wrapped("  * ", l)
	}
}

func streamDelivered(p *Page, r *stream.Result) {
	p.Linef("\nWHAT IS SHOT")
	p.Linef("  the barrels deliver %s belly to back; in the bait: %s", units.ShareText(1-r.BackFeed), units.ShareText(1-r.BackShare))
	ratio := r.Ratio
	colour := "back"
	if ratio.Back < 1 {
		colour, ratio.Back, ratio.Low, ratio.High = "belly", 1/ratio.Back, 1/ratio.High, 1/ratio.Low
	}
	switch {
	case ratio.Low == ratio.High && ratio.Back == 1:
		p.Linef("  both colours equally viscous")
	case ratio.Low == ratio.High:
		p.Linef("  the %s %.2f times as viscous as the other", colour, ratio.Back)
	default:
		p.Linef("  the %s about %.2f times as viscous as the other, from %.2f to %.2f times", colour, ratio.Back, ratio.Low, ratio.High)
	}
}

// shownStations is how many lines of stations people get; JSON has all.
const shownStations = 8

func streamLine(p *Page, r *stream.Result) {
	p.Linef("\nALONG THE BAIT  (heights along %s, mm)", direction(r.BackIs))
	if r.LineRiseMM == nil {
		p.Linef("  nowhere: one colour is alone")
	} else {
		p.Linef("  the drawing has the line at %s; it lands %s in the mean", signed(r.DrawnMM), aside(*r.LineRiseMM, "higher", "lower"))
	}
	banded := slices.ContainsFunc(r.Stations, func(s stream.Station) bool { return s.LineLowMM != nil })
	place := "at " + direction(r.NoseIs)
	if r.OnPath {
		place = "on the path"
	}
	rows := [][]string{{place, "line", "against drawn", "belly", "back", "skin"}}
	if banded {
		rows[0] = append(rows[0], "line, from and to")
	}
	shown := min(shownStations, len(r.Stations))
	for i := range shown {
		rows = append(rows, stationRow(r.Stations[(2*i+1)*len(r.Stations)/(2*shown)]))
	}
	p.Table(rows)
	if shown < len(r.Stations) {
		p.Linef("  shown: %d of %d sections; --json has all", shown, len(r.Stations))
	}
	p.Wrapped("  ", "belly, back: how thick each colour is there at most. skin: what the front lays over the smaller stream's face.")
	for _, l := range r.Lost {
		p.Wrapped("  ! ", lostText(l))
	}
}

func stationRow(s stream.Station) []string {
	row := []string{fmt.Sprintf("%.1f", s.XMM), "none", "", fmt.Sprintf("%.2f", s.BellyMM), fmt.Sprintf("%.2f", s.BackMM), fmt.Sprintf("%.2f", s.SkinMM)}
	if s.LineMM != nil {
		row[1], row[2] = signed(*s.LineMM), rise(*s.RiseMM)
	}
	if s.LineLowMM != nil {
		row = append(row, signed(*s.LineLowMM)+" to "+signed(*s.LineHighMM))
	}
	return row
}

// lostText says that a colour does not show in a part of the bait.
func lostText(l stream.Lost) string {
	other := map[string]string{"back": "belly", "belly": "back"}[l.Colour]
	where := fmt.Sprintf("from %.1f to %.1f mm", l.FromMM, l.ToMM)
	if l.FromMM == l.ToMM {
		where = fmt.Sprintf("at %.1f mm", l.FromMM)
	}
	part := "the bait"
	if l.Part == "branch" {
		part = "a part that stands apart"
	}
	if l.WideMM == 0 {
		return fmt.Sprintf("%s %s comes out all %s", where, part, other)
	}
	return fmt.Sprintf("%s %s comes out nearly all %s: the %s is at most %.2f mm thick there", where, part, other, l.Colour, l.WideMM)
}

func streamSkin(p *Page, r *stream.Result) {
	p.Linef("\nSKIN")
	switch {
	case r.LineRiseMM == nil:
		p.Wrapped("  ", "None: one colour is alone.")
		return
	case r.Skin.Over == "":
		p.Wrapped("  ", "None: with an even split neither colour runs over the other.")
		return
	}
	other := map[string]string{"back": "belly", "belly": "back"}[r.Skin.Over]
	p.Wrapped("  ", fmt.Sprintf("The front lays %s over the %s's face: %.2f mm in the mean, %.2f mm at most; %.0f %% of that face is covered %.2g mm or thicker. An estimate. An even split has no skin.",
		other, r.Skin.Over, r.Skin.MeanMM, r.Skin.MostMM, r.Skin.FaceShare*100, r.Skin.SeenMM))
}

func streamEffects(p *Page, r *stream.Result) {
	if len(r.Effects) == 0 {
		return
	}
	p.Linef("\nWHAT MOVES THE LINE, most first")
	rows := [][]string{{"mean", "at most", ""}}
	for _, e := range r.Effects {
		rows = append(rows, []string{fmt.Sprintf("%.2f mm", math.Abs(e.LineMM)), fmt.Sprintf("%.2f mm", math.Abs(e.MostMM)), e.What + ": " + e.By})
	}
	p.Table(rows)
	if !r.TemperatureMatters {
		p.Wrapped("  ", "Temperature hardly matters for the line of this bait: see to barrels and block first.")
	}
}

func streamAgree(p *Page, r *stream.Result) {
	if r.Agree.LineMM == nil {
		return
	}
	p.Linef("\nTO MAKE DRAWING AND BARRELS AGREE")
	p.Linef("  draw the line at %s mm", signed(*r.Agree.LineMM))
	if r.Agree.BackFeed != nil {
		p.Linef("  or deliver %s belly to back", units.ShareText(1-*r.Agree.BackFeed))
	}
}

func streamFilling(p *Page, r *stream.Result) {
	f := r.Filling
	if f == nil {
		return
	}
	p.Linef("\nWILL IT FILL?")
	if f.TimeLowS == f.TimeHighS {
		p.Linef("  in %.2f s at %.1f mL/s; that takes %.0f kPa (%.0f psi)", f.TimeS, f.FlowMLS, f.PressureKPa, f.PressureKPa/6.894757293)
	} else {
		p.Linef("  in about %.2f s, from %.2f to %.2f s, at %.0f kPa (%.0f psi): nobody knows your melt's viscosity", f.TimeS, f.TimeLowS, f.TimeHighS, f.PressureKPa, f.PressureKPa/6.894757293)
	}
	rows := [][]string{{"pressure is lost in", "", "shear rate at the wall"}}
	for _, l := range f.Lost {
		where := l.Where
		if l.XMM != nil {
			where = fmt.Sprintf("bait at %.1f mm", *l.XMM)
		}
		rows = append(rows, []string{where, fmt.Sprintf("%.1f %%", l.Share*100), fmt.Sprintf("%.0f 1/s", l.Shear)})
	}
	p.Table(rows)
	if len(f.Thin) == 0 {
		p.Linef("  no section sets before it is filled")
	}
}

// signed prints a height in mm with no minus before a zero.
func signed(mm float64) string { return fmt.Sprintf("%.2f", math.Round(mm*100)/100+0) }

// rise prints how far up, or down with its minus.
func rise(mm float64) string {
	if math.Abs(mm) < 0.005 {
		return "0.00"
	}
	return fmt.Sprintf("%+.2f", mm)
}

// aside prints how far and which way.
func aside(mm float64, up, down string) string {
	if math.Abs(mm) < 0.005 {
		return "just there"
	}
	way := up
	if mm < 0 {
		way = down
	}
	return fmt.Sprintf("%.2f mm (%.3f in) %s", math.Abs(mm), math.Abs(mm)/25.4, way)
}
