package order

// Lot is plastic that has been heated.
type Lot struct {
	MassG float64
	HotML float64 // at pouring temperature
}

func (l Lot) plus(m Lot) Lot { return Lot{l.MassG + m.MassG, l.HotML + m.HotML} }

// times returns a share of the lot.
func (l Lot) times(share float64) Lot { return Lot{l.MassG * share, l.HotML * share} }

// shelf keeps plastic by how many times it has been heated.
type shelf []Lot

func (s *shelf) put(heats int, l Lot) {
	for len(*s) <= heats {
		*s = append(*s, Lot{})
	}
	(*s)[heats] = (*s)[heats].plus(l)
}

// take takes up to hotML of what has been heated at most so often, the oldest first
// so that it is used while it may be, and says how often the oldest of it was.
func (s shelf) take(hotML float64, mostHeats int) (taken Lot, oldest int) {
	for heats := min(mostHeats, len(s)-1); heats > 0 && hotML > 0; heats-- {
		if s[heats].HotML <= 0 {
			continue
		}
		part := s[heats]
		if part.HotML > hotML {
			part = part.times(hotML / part.HotML)
			s[heats] = s[heats].plus(part.times(-1))
		} else {
			s[heats] = Lot{}
		}
		hotML -= part.HotML
		taken, oldest = taken.plus(part), max(oldest, heats)
	}
	return taken, oldest
}

// have is what has been heated at most so often.
func (s shelf) have(mostHeats int) Lot {
	var sum Lot
	for heats := 0; heats < len(s) && heats <= mostHeats; heats++ {
		sum = sum.plus(s[heats])
	}
	return sum
}

// all is everything on the shelf.
func (s shelf) all() Lot { return s.have(len(s)) }
