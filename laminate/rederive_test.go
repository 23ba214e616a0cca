package laminate

import (
	"bellyline/cavity/units"
)

// A second derivation of a shot, written from the physics and not from the
// program: everything in grams first, volumes from them. The tests hold it
// against what Pour says.

// cupML is the US cup, 231/16 cubic inches of 16.387064 mL.
const cupML = 231.0 / 16 * 16.387064

// mixed is a mix made of one cup of plastisol.
type mixed struct {
	grams, coldML, hotML float64
	doseG                []float64
}

func (m mixed) cold() float64 { return m.grams / m.coldML }
func (m mixed) hot() float64  { return m.grams / m.hotML }

func mixCup(c Colour) mixed {
	p := c.Mix.Plastisol
	plastisolG := cupML * p.DensityGML
	m := mixed{grams: plastisolG, coldML: cupML, hotML: cupML + cupML*p.ExpansionPerC*(float64(p.Pour)-float64(p.Room))}
	for _, d := range c.Mix.Doses {
		g := d.PerCup.Value
		switch a := d.Additive; d.PerCup.Kind {
		case units.ByVolume:
			g *= a.LooseGML
		case units.ByPercent:
			g *= plastisolG / 100
		case units.ByDrops:
			drop := 0.05 // mL, where none is given
			if a.DropML != 0 {
				drop = a.DropML
			}
			g *= drop * a.TrueGML
		}
		m.doseG = append(m.doseG, g)
		m.grams += g
		m.coldML += g / d.Additive.TrueGML
		m.hotML += g / d.Additive.TrueGML
	}
	return m
}

// taken is what one shot takes of one colour.
type taken struct {
	baitG, feedG, hotML float64
}

// rederived is a job worked out a second time.
type rederived struct {
	mixes  []mixed
	shares []float64 // of the cavity as it fills
	cavML  float64
	baitG  float64
	shot   []taken
}

// rederive takes the asked share of a line by height from the answer, since that
// is geometry, which other tests check.
func rederive(j Job, askedShare float64) rederived {
	d := rederived{}
	for _, c := range j.Colours {
		d.mixes = append(d.mixes, mixCup(c))
	}
	d.shares = []float64{1}
	if len(j.Colours) > 2 {
		d.shares = nil
		below := 0.0
		for _, l := range j.Lines {
			d.shares, below = append(d.shares, l.Share-below), l.Share
		}
		d.shares = append(d.shares, 1-below)
		areas := 0.0
		for _, b := range j.Injector.Barrels {
			areas += b.BoreMM * b.BoreMM
		}
		for i, b := range j.Injector.Barrels {
			if j.Injector.Drive == Ganged {
				d.shares[i] = b.BoreMM * b.BoreMM / areas
			}
		}
	}
	if len(j.Colours) == 2 {
		belly := askedShare
		if j.Injector.Drive == Ganged {
			left, right := j.Injector.Barrels[0].BoreMM, j.Injector.Barrels[1].BoreMM
			belly = 1 / (1 + (right/left)*(right/left))
		}
		d.shares = []float64{belly, 1 - belly}
	}
	perML := 0.0 // grams of bait per mL of cavity
	parts := make([]float64, len(d.mixes))
	for i := range d.mixes {
		parts[i] = d.baitPartG(j, i)
		perML += parts[i]
	}
	d.cavML = j.WeighedBaitG / perML
	if j.Cavity != nil {
		d.cavML = j.Cavity.FillMM3 / 1000
	}
	d.baitG = perML * d.cavML
	feed := d.feedG(j)
	for i, m := range d.mixes {
		s := taken{baitG: parts[i] * d.cavML * float64(j.Cavities), feedG: feed[i]}
		s.hotML = (s.baitG + s.feedG) / m.hot()
		d.shot = append(d.shot, s)
	}
	return d
}

// baitPartG is the grams of colour i in a bait of 1 mL of cavity. Pushed by
// itself, a colour ends between its hot and its cold density. Ganged, the pair
// gives what both have shrunk by, in the bores' ratio.
func (d rederived) baitPartG(j Job, i int) float64 {
	m := d.mixes[i]
	if len(d.mixes) == 1 || j.Injector.Drive != Ganged {
		return d.shares[i] * ((1-j.Fed)*m.hot() + j.Fed*m.cold())
	}
	missing := 0.0 // hot mL that would make up for the shrinkage of both
	for k, other := range d.mixes {
		missing += d.shares[k] * (other.cold() - other.hot()) / other.hot()
	}
	return m.hot() * d.shares[i] * (1 + j.Fed*missing)
}

// feedG parts the feed's grams: hot volumes lie in the ratio of the shares, and
// weighed channels weigh what they weighed.
func (d rederived) feedG(j Job) []float64 {
	volume, weight := 0.0, 0.0
	for _, c := range j.Feed {
		alike := c.Count
		if alike == 0 {
			alike = 1
		}
		volume += float64(alike) * c.VolumeML
		if c.VolumeML == 0 {
			weight += float64(alike) * c.MassG
		}
	}
	perML := 0.0
	for i, m := range d.mixes {
		perML += d.shares[i] * m.hot()
	}
	var grams []float64
	for i, m := range d.mixes {
		grams = append(grams, d.shares[i]*m.hot()*(volume+weight/perML))
	}
	return grams
}

// shotG is what a shot weighs of colour i.
func (d rederived) shotG(i int) float64 { return d.shot[i].baitG + d.shot[i].feedG }
