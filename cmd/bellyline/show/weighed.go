package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// FromWeighing says that a bait's weight is the shop's own, or nothing.
func FromWeighing(r *laminate.Pour) string {
	if r.Bait.WeighedBaits == 0 {
		return ""
	}
	return fmt.Sprintf("from your weighing of %d %s", r.Bait.WeighedBaits, Plural(r.Bait.WeighedBaits, "bait"))
}

// weighedBaits says what the weighing found.
func weighedBaits(p *Page, r *laminate.Pour) {
	if n := r.Bait.WeighTogether; n > 1 {
		p.Linef("  One step of your scale is more than 1 %% of a bait: weigh %d together and divide.", n)
	}
	if r.Weighed == nil || r.Weighed.Baits == nil {
		return
	}
	b := r.Weighed.Baits
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
		text += fmt.Sprintf(" (%d of them), %s than by the recipe.", b.Hung, denserText(b.DenserBy))
	}
	p.Wrapped("  ", text)
}

func denserText(by float64) string {
	if by < 0 {
		return fmt.Sprintf("%.1f %% lighter", -by*100)
	}
	return fmt.Sprintf("%.1f %% denser", by*100)
}

// pourStroke says where the ratio of two barrels comes from.
func pourStroke(p *Page, r *laminate.Pour) {
	switch {
	case r.Drive != laminate.Ganged:
	case r.Weighed == nil || r.Weighed.Stroke == nil:
		p.Wrapped("  ", "The share delivered is that of the bores. For the real one push a stroke into a cup for each colour, weigh them, and set \"stroke\" under \"weighings\".")
	default:
		var volumes []string
		for _, v := range r.Weighed.Stroke.VolumeML {
			volumes = append(volumes, units.Volume(v).String())
		}
		p.Wrapped("  ", fmt.Sprintf("The share delivered is that of your weighed stroke, by volume: its grams over each colour's hot density, %s. The bores say %s.",
			strings.Join(volumes, " and "), units.SharesText(r.Weighed.Stroke.BoresShares)))
	}
}
