package cavity

// DefaultFed is the share of its shrinkage that a cavity draws from the runner
// when the shop has not weighed it yet: half way between nothing and all.
// Assumed, and said to be wherever it is used.
const DefaultFed = 0.5

// TopUp returns the hot volume drawn while setting, per hot volume of cavity,
// by a cavity that is fed the given share (0 to 1) of its shrinkage. Fed fully,
// a cavity of volume V ends with the mass ColdDensity*V and so has drawn
// V*(ColdDensity/HotDensity-1) on top of V.
func (b Blend) TopUp(fed float64) float64 {
	return fed * (b.ColdDensity/b.HotDensity - 1)
}

// BaitG returns the mass in g that a cavity of volumeML holds once set, fed the
// given share of its shrinkage.
func (b Blend) BaitG(volumeML, fed float64) float64 {
	return b.HotDensity * volumeML * (1 + b.TopUp(fed))
}

// VolumeForBait is the inverse of BaitG: the cavity volume in mL of a bait that weighs massG.
func (b Blend) VolumeForBait(massG, fed float64) float64 {
	return massG / (b.HotDensity * (1 + b.TopUp(fed)))
}
