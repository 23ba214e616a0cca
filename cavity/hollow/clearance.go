package hollow

import "math"

// clearance returns for each cell the radius in mm of the largest ball round a
// point of the rim's plane that stays within depths: wide and deep places have
// much, a narrow or a shallow neck has little. Outside it is 0.
//
// It is the distance transform of a sampled function, min over q of
// |p-q|^2 + depth(q)^2, by lower envelopes of parabolas, rows then columns
// (Felzenszwalb and Huttenlocher, Theory of Computing 8 (2012) 415; from memory).
//
// depths are those of d, or what it is to be taken for beyond open ends.
func (d *Depths) clearance(depths []float32) []float32 {
	f := make([]float64, len(depths))
	for i, z := range depths {
		f[i] = float64(z) * float64(z) / (d.CellMM * d.CellMM)
	}
	longest := max(d.NX, d.NY)
	e := envelope{line: make([]float64, longest), out: make([]float64, longest), at: make([]int, longest), from: make([]float64, longest+1)}
	for j := range d.NY {
		e.transform(f[j*d.NX:], d.NX, 1)
	}
	for i := range d.NX {
		e.transform(f[i:], d.NY, d.NX)
	}
	c := make([]float32, len(d.MM))
	for i := range c {
		if d.MM[i] > 0 {
			c[i] = float32(math.Sqrt(f[i]) * d.CellMM)
		}
	}
	return c
}

// envelope is the scratch space of one line's transform.
type envelope struct {
	line, out []float64
	at        []int     // the parabolas of the envelope
	from      []float64 // where each begins
}

// transform replaces n values, step apart, by their distance transform.
func (e *envelope) transform(f []float64, n, step int) {
	for i := range n {
		e.line[i] = f[i*step]
	}
	k := 0
	e.at[0], e.from[0], e.from[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < n; q++ {
		s := e.meet(q, e.at[k])
		for s <= e.from[k] {
			k--
			s = e.meet(q, e.at[k])
		}
		k++
		e.at[k], e.from[k], e.from[k+1] = q, s, math.Inf(1)
	}
	k = 0
	for q := range n {
		for e.from[k+1] < float64(q) {
			k++
		}
		away := float64(q - e.at[k])
		f[q*step] = away*away + e.line[e.at[k]]
	}
}

// meet returns where the parabolas of q and p < q are equally high.
func (e *envelope) meet(q, p int) float64 {
	return ((e.line[q] + float64(q*q)) - (e.line[p] + float64(p*p))) / float64(2*(q-p))
}
