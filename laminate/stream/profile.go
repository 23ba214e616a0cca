package stream

// profile is the speed along one upright line of plastic, wall to wall: a
// quadratic between neighbouring knots. Per unit pressure gradient, in mm2 over
// the unit of viscosity.
type profile struct {
	x     float64
	y, u  []float64
	bends []float64 // second derivative between knots i and i+1
}

func newProfile(x float64, knots int) profile {
	return profile{x: x, y: make([]float64, 0, knots), u: make([]float64, 0, knots), bends: make([]float64, 0, knots)}
}

func (p *profile) add(y, u, bend float64) {
	p.y, p.u = append(p.y, y), append(p.u, u)
	if len(p.y) > 1 {
		p.bends = append(p.bends, bend)
	}
}

// piece integrates the first part of the piece between knots i and i+1.
func (p *profile) piece(i int, part float64) float64 {
	length := p.y[i+1] - p.y[i]
	return p.u[i]*part + (p.u[i+1]-p.u[i])*part*part/(2*length) - p.bends[i]/2*(length*part*part/2-part*part*part/3)
}

// below integrates the speed from the lower wall to a height.
func (p *profile) below(height float64) float64 {
	sum := 0.0
	for i := range p.bends {
		length := p.y[i+1] - p.y[i]
		part := min(length, height-p.y[i])
		if part <= 0 || length <= 0 {
			if part <= 0 {
				break
			}
			continue
		}
		sum += p.piece(i, part)
	}
	return sum
}

func (p *profile) total() float64 { return p.below(p.y[len(p.y)-1]) }

// thick is the length of the line, wall to wall.
func (p *profile) thick() float64 { return p.y[len(p.y)-1] - p.y[0] }

// speed returns u at a height, 0 outside.
func (p *profile) speed(height float64) float64 {
	for i := range p.bends {
		if height > p.y[i+1] || height < p.y[i] {
			continue
		}
		length := p.y[i+1] - p.y[i]
		if length <= 0 {
			continue
		}
		t := height - p.y[i]
		return p.u[i] + (p.u[i+1]-p.u[i])*t/length - p.bends[i]/2*t*(length-t)
	}
	return 0
}

// slitProfile is the speed between two plain walls: exact for one stream or for
// two (physics of a slit: u is a quadratic in each stream, speed and shear stress
// are continuous).
func slitProfile(x, lo, hi, face float64, mu viscosities) profile {
	p := profile{x: x}
	p.add(lo, 0, 0)
	bend := -1 / mu.side(face <= lo)
	if face > lo && face < hi {
		a, b := face-lo, hi-face
		q := (b*b/mu.above - a*a/mu.below) / 2 / (a/mu.below + b/mu.above)
		p.add(face, a*q/mu.below+a*a/(2*mu.below), -1/mu.below)
		bend = -1 / mu.above
	}
	p.add(hi, 0, bend)
	return p
}
