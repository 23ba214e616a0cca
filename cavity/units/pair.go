package units

// Pair is an amount as people read it in either system. One of the two may be missing.
type Pair struct {
	Metric, US string
	USFirst    bool // as with degrees, cups and spoons
}

// Lead returns the one that is read first.
func (p Pair) Lead() string {
	if p.USFirst && p.US != "" || p.Metric == "" {
		return p.US
	}
	return p.Metric
}

// Other returns the one that is read second, or nothing.
func (p Pair) Other() string {
	if p.Lead() == p.Metric {
		return p.US
	}
	return p.Metric
}

// String prints both: "62.4 mL (2.11 fl oz)".
func (p Pair) String() string {
	if p.Other() == "" {
		return p.Lead()
	}
	return p.Lead() + " (" + p.Other() + ")"
}
