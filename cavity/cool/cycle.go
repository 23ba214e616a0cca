package cool

// A short step is the one of plan.go: stepShare of pitch squared over diffusivity,
// and no temperature leaves the range of its neighbours. Once the steep layer at the
// wall has spread, many short steps can be had for far fewer sweeps over the grid:
// n of them are the n-th power of one, and a polynomial of low degree that begins
// like that power does the same to all that is smooth, and keeps the rest within
// bounds. The one used is that of Meyer, Balsara and Aslam (J. Comput. Phys. 257
// (2014) 594; from memory), made to follow the power instead of the exponential: a
// short step's error in time, which takes away most of that in space, is kept.

// cycle is n short steps in fewer sweeps. With x for one short step it is
// 1 - part + part P(1 - reach + reach x), P the Legendre polynomial of degree sweeps.
type cycle struct {
	sweeps      int
	reach, part float64
}

const (
	// fewestSweeps is the lowest degree that saves any.
	fewestSweeps = 5
	// singly is up to how many short steps are done one by one.
	singly = 5
)

// cycleOf returns the cycle for more than singly short steps.
//
// Its value, first and second derivative at x = 1 are those of x^n: 1, n and n(n-1).
// Those of P are 1, s(s+1)/2 and (s-1)s(s+1)(s+2)/8, which gives reach and part. The
// eigenvalues of a short step lie between -1 and 1; there the cycle does too as long
// as reach is 1 at most. Degrees are odd, so that what changes sign from node to
// node, at x = -1, is nearly wiped out.
func cycleOf(steps int) cycle {
	s := fewestSweeps
	for stepsIn(s) < steps {
		s += 2
	}
	n, degree := float64(steps), float64(s)
	c := cycle{sweeps: s, reach: 4 * (n - 1) / ((degree - 1) * (degree + 2))}
	c.part = n / (c.reach * degree * (degree + 1) / 2)
	return c
}

// stepsIn is how many short steps a degree can do.
func stepsIn(sweeps int) int { return 1 + (sweeps-1)*(sweeps+2)/4 }

// fullCycle is how many short steps to do at once, a number at most: as many as
// the sweeps for them can do.
func fullCycle(atMost int) int {
	s := fewestSweeps
	if atMost < stepsIn(s) {
		return max(1, min(atMost, singly))
	}
	for stepsIn(s+2) <= atMost {
		s += 2
	}
	return stepsIn(s)
}

// sweep is what one sweep makes of a temperature: stay times it, and move times
// what a short step changes, less old times what it was two sweeps ago.
type sweep struct{ stay, move, old float64 }

// sweepAt returns the sweep for degree i of a cycle: with y for its argument,
// i P(i) = (2i-1) y P(i-1) - (i-1) P(i-2).
func (c cycle) sweepAt(i int) sweep {
	n := float64(i)
	stay := (2*n - 1) / n
	return sweep{stay: stay, move: stay * c.reach, old: (n - 1) / n}
}
