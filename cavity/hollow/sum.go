package hollow

import "math"

// sum is a compensated sum (Neumaier, ZAMM 54 (1974) 39; from memory): its error
// is that of the last rounding, whatever the number of terms.
type sum struct{ total, lost float64 }

func (s *sum) add(x float64) {
	t := s.total + x
	if math.Abs(s.total) >= math.Abs(x) {
		s.lost += (s.total - t) + x
	} else {
		s.lost += (x - t) + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }
