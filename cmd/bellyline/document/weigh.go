package document

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func weigh(p *laminate.Pour) Step {
	s := newStep(6, "Weigh")
	if p.Across != nil {
		for i, side := range p.Across.Sides {
			key := fmt.Sprintf("across.sides.%d.", i)
			s.rows(Lines, Row{Name: side.Lies, Cells: []Cell{mass(key+"mass_g", "a bait, cold", side.MassG).large(), bound(key+"mass_unfed_g", "reject below", side.MassUnfedG)}})
		}
		return s
	}
	b := p.Bait
	label := "a bait, cold"
	if b.WeighedBaits > 0 {
		label += fmt.Sprintf(", from your weighing of %d %s", b.WeighedBaits, Plural(b.WeighedBaits, "bait"))
	}
	s.rows(Lines, Row{Cells: []Cell{mass("bait.mass_g", label, b.MassG).large(), bound("bait.reject_below_g", "reject below", b.RejectBelowG).large()}})
	s.say("Lighter than that: air in it, or not filled.")
	s.add(Block{Form: Lines, OffSheet: true, Rows: []Row{{Cells: []Cell{
		bound("bait.mass_unfed_g", "if it draws nothing while it shrinks", b.MassUnfedG), bound("bait.mass_fed_g", "if it draws all", b.MassFedG),
		volume("bait.cavity_ml", "the cavity holds", b.VolumeML), number("bait.density_g_ml", "cold", fmt.Sprintf("%.3f g/mL", b.DensityGML)),
	}}}})
	weighed(&s, p)
	if d := p.DoseFor; d != nil {
		spoons := ""
		if d.PerCup != "" {
			spoons = ", about " + d.PerCup
		}
		s.note("For a bait of %s: %.1f g of %s%s, to each cup of every colour, in place of what the card says of it.", units.Mass(d.BaitG), d.PerCupG, d.Additive, spoons)
	}
	return s
}

// weighed says what the weighing found.
func weighed(s *Step, p *laminate.Pour) {
	if n := p.Bait.WeighTogether; n > 1 {
		s.note("One step of your scale is more than 1 %% of a bait: weigh %d together and divide.", n)
	}
	if p.Weighed == nil || p.Weighed.Baits == nil {
		return
	}
	b := p.Weighed.Baits
	text := fmt.Sprintf("Weighed %d: one has no spread.", b.Weighed)
	if b.SpreadG != nil {
		text = fmt.Sprintf("Weighed %d, too light %d; the other %d have a mean of %.2f g, spread %.2f g (sample standard deviation).", b.Weighed, len(b.Light), b.Used, b.MeanG, *b.SpreadG)
	}
	if b.Fed != nil {
		text += fmt.Sprintf(" They drew %.0f %% of their shrinkage, give or take %.0f.", *b.Fed*100, *b.FedGive*100)
	}
	if b.VolumeML != nil {
		text += fmt.Sprintf(" Hung in water: %.2f mL, %.3f g/mL", *b.VolumeML, *b.DensityGML)
		if b.DensitySpread != nil {
			text += fmt.Sprintf(", spread %.3f", *b.DensitySpread)
		}
		text += fmt.Sprintf(" (%d of them), %s than by the recipe.", b.Hung, denser(b.DenserBy))
	}
	s.note("%s", text)
}

func denser(by float64) string {
	if by < 0 {
		return fmt.Sprintf("%.1f %% lighter", -by*100)
	}
	return fmt.Sprintf("%.1f %% denser", by*100)
}

// stroke says where the ratio of two barrels comes from.
func stroke(s *Step, p *laminate.Pour) {
	switch {
	case p.Drive != laminate.Ganged:
	case p.Weighed == nil || p.Weighed.Stroke == nil:
		s.note("The share delivered is that of the bores. For the real one push a stroke into a cup for each colour, weigh them, and set \"stroke\" under \"weighings\".")
	default:
		var volumes []string
		for _, v := range p.Weighed.Stroke.VolumeML {
			volumes = append(volumes, units.Volume(v).String())
		}
		s.note("The share delivered is that of your weighed stroke, by volume: its grams over each colour's hot density, %s. The bores say %s.",
			strings.Join(volumes, " and "), units.SharesText(p.Weighed.Stroke.BoresShares))
	}
}

// capital begins a sentence.
func capital(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
