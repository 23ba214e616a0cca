package stream

import "math"

// The front of a filling stream is slower than its core: what comes up in the
// core turns to the wall there and stays behind (fountain flow: Rose, Nature 191
// (1961) 242, from memory). So the colour that reaches the front covers the face
// of the one that does not.
//
// On one upright line of plastic, seen from the front, the core moves forward and
// the layers at both walls fall back. Order is kept: what lies between a wall and
// y has come from the core between c(y) and the middle streamline, as much of it
// forward as back. With
//
//	G(y) = integral from the wall to y of (1 - u/mean) ,
//
// that is G(c) = G(y); the middle streamline is where G is zero again, which is
// where cumulative flow equals cumulative area.
type front struct {
	profile
	mean   float64
	middle float64 // height of the streamline that parts the front
	slow   float64 // up to here from the lower wall u < mean
	fast   float64 // and from here on to the upper wall
}

func newFront(p profile) front {
	f := front{profile: p, mean: p.total() / p.thick()}
	lo, hi := p.y[0], p.y[len(p.y)-1]
	top := f.peak()
	f.slow = bisect(lo, top, func(y float64) bool { return p.speed(y) < f.mean })
	f.fast = bisect(top, hi, func(y float64) bool { return p.speed(y) > f.mean })
	f.middle = bisect(f.slow, f.fast, func(y float64) bool { return f.lag(y) > 0 })
	return f
}

// peak is the height of the fastest knot.
func (f *front) peak() float64 {
	best := 0
	for i := range f.u {
		if f.u[i] > f.u[best] {
			best = i
		}
	}
	return f.y[best]
}

// lag is G at a height, in mm.
func (f *front) lag(y float64) float64 { return y - f.y[0] - f.below(y)/f.mean }

// skin is what the front lays over one face on one line of plastic.
type skin struct {
	thick float64 // fully grown, mm
	from  float64 // share of the filled volume, counted from the gate, from which on it is so
}

// skinBelow returns the skin on the lower wall when the interface stands at a
// height; none where the lower stream reaches the front's middle itself.
func (f *front) skinBelow(height float64) skin {
	lo := f.y[0]
	switch {
	case height <= lo || height >= f.middle:
		return skin{}
	case height <= f.slow: // the lower stream never reaches the front
		return skin{height - lo, f.speed(height) / f.mean}
	}
	goal := f.lag(height)
	y := bisect(lo, f.slow, func(y float64) bool { return f.lag(y) < goal })
	return skin{y - lo, f.speed(y) / f.mean}
}

// skinAbove is skinBelow for the upper wall.
func (f *front) skinAbove(height float64) skin {
	hi := f.y[len(f.y)-1]
	switch {
	case height >= hi || height <= f.middle:
		return skin{}
	case height >= f.fast:
		return skin{hi - height, f.speed(height) / f.mean}
	}
	goal := f.lag(height)
	y := bisect(f.fast, hi, func(y float64) bool { return f.lag(y) < goal })
	return skin{hi - y, f.speed(y) / f.mean}
}

// thickAt returns how thick a skin is where the filled volume from the gate on is
// a share of the whole: nearer to the gate what follows has swept the faster part
// of it away. low tells on which wall it lies.
func (f *front) thickAt(s skin, filled float64, low bool) float64 {
	if s.thick == 0 || filled >= s.from {
		return s.thick
	}
	lo, hi := f.y[0], f.y[len(f.y)-1]
	if low {
		return bisect(lo, lo+s.thick, func(y float64) bool { return f.speed(y) < filled*f.mean }) - lo
	}
	return hi - bisect(hi-s.thick, hi, func(y float64) bool { return f.speed(y) > filled*f.mean })
}

// Skin is what the front lays over one stream's face in a section.
type Skin struct {
	OverBelow bool    // it lies over the lower stream's face, else over the upper's
	MeanMM    float64 // over the width of that face
	FaceMM    float64 // width of that face
	ShownMM   float64 // part of that width where the skin is at least as thick as asked
}

// evenSplit is how little a stream's shares of flow and of gap may differ, between
// plates, for both colours to reach the front alike, so that neither covers the other.
const evenSplit = 0.005

// Skin estimates the front-laid layer at the end of filling, where filled is the
// share of the volume that lies between the gate and here, on each upright line
// for itself as if it were a slit: an estimate, since the front of a real section
// also moves sideways. shows is from how many mm on a skin counts as seen.
func (p *Parting) Skin(filled, shows float64) Skin {
	takes := slitHeight(p.BelowShare, p.Flow.mu.below/p.Flow.mu.above)
	s := Skin{OverBelow: takes > p.BelowShare}
	if math.Abs(takes-p.BelowShare) < evenSplit {
		return s
	}
	sum := 0.0
	for i := range p.Flow.profiles {
		line := &p.Flow.profiles[i]
		lo, hi := line.y[0], line.y[len(line.y)-1]
		if !(line.total() > 0) || s.OverBelow && p.HeightMM <= lo || !s.OverBelow && p.HeightMM >= hi {
			continue
		}
		f := newFront(*line)
		laid := f.skinBelow(p.HeightMM)
		if !s.OverBelow {
			laid = f.skinAbove(p.HeightMM)
		}
		thick := f.thickAt(laid, filled, s.OverBelow)
		s.FaceMM += p.Flow.width
		sum += thick * p.Flow.width
		if thick >= shows {
			s.ShownMM += p.Flow.width
		}
	}
	if s.FaceMM > 0 {
		s.MeanMM = sum / s.FaceMM
	}
	return s
}
