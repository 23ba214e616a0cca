package order

import (
	"fmt"
	"strings"

	"bellyline/cavity"
	"bellyline/laminate"
)

// colour is one mix of an order, whichever baits it goes into.
type colour struct {
	name       string
	mix        cavity.Mix
	blend      cavity.Blend
	takesMixed float64
	shelf      shelf // one colour, cold, to be heated again
	account    Account
}

// recipeOf tells mixes apart: material, additives and their doses.
func recipeOf(c laminate.Colour) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%q %g %g", c.Mix.Plastisol.Name, float64(c.Mix.Plastisol.Pour), c.TakesMixed)
	for _, d := range c.Mix.Doses {
		fmt.Fprintf(&b, " %q %d %g", d.Additive.Name, d.PerCup.Kind, d.PerCup.Value)
	}
	return b.String()
}

// gatherColours lists the colours of all lines: baits whose mixes are the same share
// one. It returns, for each line, which colours are its own.
func gatherColours(lines []Line) ([]*colour, [][]int, error) {
	var list []*colour
	byRecipe, named := map[string]int{}, map[string]bool{}
	var of [][]int
	for _, l := range lines {
		var own []int
		for _, c := range l.Job.Colours {
			key := c.Name + "\x00" + recipeOf(c)
			i, known := byRecipe[key]
			if !known {
				blend, err := c.Mix.Blend()
				if err != nil {
					return nil, nil, fmt.Errorf("%w: %s: colour %q: %w", ErrOrder, l.Name, c.Name, err)
				}
				i = len(list)
				byRecipe[key] = i
				list = append(list, &colour{name: freeName(c.Name, l.Name, named), mix: c.Mix, blend: blend, takesMixed: c.TakesMixed})
			}
			own = append(own, i)
		}
		of = append(of, own)
	}
	return list, of, nil
}

// freeName is the name of a colour, with that of its bait or a number where another
// mix is called the same.
func freeName(name, bait string, taken map[string]bool) string {
	free := name
	for n := 1; taken[free]; n++ {
		free = fmt.Sprintf("%s of %s", name, bait)
		if n > 1 {
			free = fmt.Sprintf("%s (%d)", free, n)
		}
	}
	taken[free] = true
	return free
}
