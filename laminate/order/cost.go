package order

// Cost is what an order costs, all in the shop's money.
type Cost struct {
	Plastic float64 `json:"plastic"` // with additives
	Bags    float64 `json:"bags"`
	Labour  float64 `json:"labour"`
	Tax     float64 `json:"tax"`
	Total   float64 `json:"total"`
	Hours   float64 `json:"hours"`
}

// LineCost is what one bait of an order costs. The lines add up to the order.
type LineCost struct {
	Plastic float64  `json:"plastic"`
	Bags    float64  `json:"bags"`
	Labour  float64  `json:"labour"`
	Tax     float64  `json:"tax"`
	Total   float64  `json:"total"`
	PerBait float64  `json:"per_bait"`
	PerPack *float64 `json:"per_pack"` // null when sold loose
}

// price shares the cost of a colour among the baits by the grams that they took of
// it, leftovers with them; the time at the bench by shots; trimming and packing by
// pieces and packs.
func (r *run) price(p *Plan) {
	used := make([]float64, len(r.colours))
	shots := 0
	for _, t := range r.tasks {
		shots += t.shots + t.warmed
		for i, part := range t.parts {
			used[part.colour] += t.usedG[i]
		}
	}
	for _, a := range p.Colours {
		if !a.Priced && a.FreshG > 0 {
			return
		}
	}
	total := Cost{Hours: (p.PourS + p.HandleS) / 3600}
	for k, t := range r.tasks {
		var c LineCost
		for i, part := range t.parts {
			c.Plastic += p.Colours[part.colour].Cost * t.usedG[i] / used[part.colour]
		}
		c.Bags = float64(t.Packs) * t.BagPrice
		atBench := p.PourS * float64(t.shots+t.warmed) / float64(shots)
		handling := float64(t.Pieces)*r.bench.HandleS + float64(t.Packs)*r.bench.PackS
		c.Labour = (atBench + handling) / 3600 * r.bench.LabourPerHour
		c.Tax = (c.Plastic + c.Bags + c.Labour) * r.bench.TaxShare
		c.Total = c.Plastic + c.Bags + c.Labour + c.Tax
		c.PerBait = c.Total / float64(t.Pieces)
		if t.Packs > 0 {
			per := c.Total / float64(t.Packs)
			c.PerPack = &per
		}
		total.add(c)
		p.Lines[k].Cost = &c
	}
	p.Cost = &total
}

func (c *Cost) add(l LineCost) {
	c.Plastic += l.Plastic
	c.Bags += l.Bags
	c.Labour += l.Labour
	c.Tax += l.Tax
	c.Total += l.Total
}
