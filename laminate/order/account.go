package order

import "bellyline/cavity/units"

// Account is where the plastic of one colour goes, in grams, additives included:
// FreshG + MixedInG + BroughtG = BaitsG + SpareG + ToMixedG + ShelfG + TooOldG.
type Account struct {
	Name      string  `json:"name"`
	Material  string  `json:"material"`
	Cups      float64 `json:"cups"` // plastisol, in 1/8 cups
	CupsText  string  `json:"cups_text"`
	FreshML   float64 `json:"plastisol_ml"`
	FreshG    float64 `json:"bought_g"`   // plastisol and additives
	MixedInG  float64 `json:"mixed_in_g"` // mixed trimmings that it took
	BroughtG  float64 `json:"brought_g"`  // left over from earlier days
	BaitsG    float64 `json:"baits_g"`    // ordered
	SpareG    float64 `json:"spare_g"`    // good baits beyond the order
	FeedG     float64 `json:"trimmings_g"`
	RejectG   float64 `json:"rejects_g"` // scrap and warm-up shots
	PurgeG    float64 `json:"purge_g"`
	ToMixedG  float64 `json:"to_mixed_g"`  // trimmings, rejects and purges that hold two colours
	ReturnedG float64 `json:"returned_g"`  // trimmings and rejects of this colour alone, put on its shelf
	ShelfG    float64 `json:"left_g"`      // at the end, may be heated again
	ShelfML   float64 `json:"leftover_ml"` // the same, cold
	TooOldG   float64 `json:"too_old_g"`   // at the end, heated as often as it may be
	Cost      float64 `json:"cost"`
	Priced    bool    `json:"priced"`

	GoodG float64 `json:"-"`
}

// MixedAccount is what holds two colours: InG = OutG + LeftG + TooOldG.
type MixedAccount struct {
	InG     float64 `json:"in_g"`
	OutG    float64 `json:"out_g"` // into colours that take it
	LeftG   float64 `json:"left_g"`
	TooOldG float64 `json:"too_old_g"`
}

// close fills an account in once everything is poured.
func (c *colour) close(reheats int) Account {
	a := c.account
	a.Name, a.Material = c.name, c.mix.Plastisol.Name
	a.Cups = units.Volume(a.FreshML).Cups()
	a.CupsText = units.CupsText(units.Volume(a.FreshML))
	may := c.shelf.have(reheats)
	a.ShelfG, a.TooOldG = may.MassG, c.shelf.all().MassG-may.MassG
	a.ShelfML = a.ShelfG / c.blend.ColdDensity
	a.Cost, a.Priced = c.cost()
	return a
}

func (c *colour) cost() (float64, bool) {
	p := c.mix.Plastisol
	sum, priced := c.account.FreshML*p.PricePerML, p.PricePerML > 0
	for k, d := range c.mix.Doses {
		sum += c.account.FreshML * c.blend.DoseG[k] * d.Additive.PricePerGram
		priced = priced && d.Additive.PricePerGram > 0
	}
	return sum, priced
}
