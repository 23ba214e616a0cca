package stream

// loseColours lists the stretches in which a colour is thinner than what can be
// seen, though the section is not.
func (r *Result) loseColours(cond Conditions) {
	open := map[[2]string]*Lost{}
	for i := range r.Stations {
		s := &r.Stations[i]
		seen := map[[2]string]bool{}
		main := 0
		for k := range s.Pieces {
			if s.Pieces[k].AreaMM2 > s.Pieces[main].AreaMM2 {
				main = k
			}
		}
		for k := range s.Pieces {
			part := "branch"
			if k == main {
				part = "body"
			}
			colour, thick, lost := s.Pieces[k].lacks(cond.LeastMM)
			if !lost {
				continue
			}
			key := [2]string{colour, part}
			seen[key] = true
			if open[key] == nil {
				open[key] = &Lost{Colour: colour, FromMM: s.XMM, Part: part}
			}
			open[key].ToMM = s.XMM
			open[key].WideMM = max(open[key].WideMM, thick)
		}
		for _, key := range lostKeys() {
			if l := open[key]; l != nil && !seen[key] {
				r.lose(*l)
				delete(open, key)
			}
		}
	}
	for _, key := range lostKeys() {
		if l := open[key]; l != nil {
			r.lose(*l)
		}
	}
}

// lose lists a stretch, unless it is one of many stations: where a branch begins
// its first section is often a sliver.
func (r *Result) lose(l Lost) {
	const many = 10
	if l.FromMM != l.ToMM || len(r.Stations) < many {
		r.Lost = append(r.Lost, l)
	}
}

func lostKeys() [4][2]string {
	return [4][2]string{{"belly", "body"}, {"belly", "branch"}, {"back", "body"}, {"back", "branch"}}
}

// lacks tells which colour a piece shows less than least of, and how much.
func (p *Piece) lacks(least float64) (colour string, thick float64, lost bool) {
	v := p.source.solver
	if v.high-v.low < least || v.inscribed < least {
		return "", 0, false
	}
	switch q := p.source.parting; {
	case q == nil && p.source.back < 0.5:
		return "back", 0, true
	case q == nil:
		return "belly", 0, true
	case q.AboveMM < least && q.AboveMM <= q.BelowMM:
		return "back", q.AboveMM, true
	case q.BelowMM < least:
		return "belly", q.BelowMM, true
	}
	return "", 0, false
}
