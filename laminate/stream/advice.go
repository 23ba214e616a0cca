package stream

import (
	"fmt"
	"math"
)

// hardly is the shift below which temperature is said not to matter, in mm.
const hardly = 0.1

// warn says in words what the numbers mean at the bench.
func (r *Result) warn() {
	say := func(format string, args ...any) { r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...)) }
	ratio := max(r.Ratio.Back, 1/r.Ratio.Back)
	flows := max(r.BackFeed/(1-r.BackFeed), (1-r.BackFeed)/r.BackFeed)
	if ratio >= wraps || flows >= wraps {
		thin := "back"
		if r.Ratio.Back > 1 {
			thin = "belly"
		}
		if ratio < wraps {
			say("one colour flows %.0f times as fast as the other: it tends to wrap the other one on the way; keep runner and block short", flows)
		} else {
			say("the viscosities differ by a factor of %.0f: the thinner %s tends to run along the walls and wrap the other colour; heat both alike", ratio, thin)
		}
	}
	unresolved := 0
	for _, s := range r.Stations {
		if !s.Resolved {
			unresolved++
		}
	}
	if unresolved > 0 {
		say("at %d of %d stations a colour is thinner than four cells of the grid: its height there is a rough figure", unresolved, len(r.Stations))
	}
	if f := r.Filling; f != nil && len(f.Thin) > 0 {
		t := f.Thin[0]
		say("at %.1f mm the section is %.1f mm thick and sets in about %.1f s, but must stay open for %.1f s: push harder, warm the mold, or gate nearer", t.XMM, t.InscribedMM, t.SetsS, t.NeedsS)
	}
}

// temperatureMatters tells whether ten degrees move the line by a tenth of a
// millimetre and by a quarter of what the largest slip does.
func (r *Result) temperatureMatters() bool {
	largest, shift := 0.0, 0.0
	for _, e := range r.Effects {
		largest = max(largest, math.Abs(e.LineMM))
		if e.Key == "temperature" {
			shift = math.Abs(e.LineMM)
		}
	}
	return shift >= hardly && shift >= largest/4
}
