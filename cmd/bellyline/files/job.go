package files

import (
	"slices"

	"bellyline/laminate"
)

// Job returns what a mold file says about a pour. What its models hold, the cavity
// and the feed, is not in it yet.
func (m *Mold) Job() laminate.Job {
	return laminate.Job{
		Bait: m.Bait, Mold: m.Name, WeighedBaitG: m.Weighed.G(), Cavities: m.Cavities,
		Fed: m.Fed, FedAssumed: !m.FedGiven, Colours: m.Colours, Lines: m.Lines,
		Injector: m.Injector, Apart: m.Apart, Across: m.Across, Vessel: m.Vessel, Baits: m.Baits, Weighings: m.Weighings, Measures: m.Shop.Measures,
		Hook: m.Hook, WaterC: m.WaterC, MaxDifferenceC: m.Shop.ApartC, Money: m.Shop.Money, Notes: m.Notes,
	}
}

// Streams tells whether streams shot at once lay all the lines.
func (m *Mold) Streams() bool {
	return !slices.ContainsFunc(m.Lines, func(l laminate.Line) bool { return !l.Streams() })
}
