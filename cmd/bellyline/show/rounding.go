package show

import (
	"fmt"
	"strings"

	"bellyline/cmd/bellyline/document"
	"bellyline/laminate/order"
)

// planRounding says what rounding costs an order, colour by colour.
func planRounding(p *Page, r order.Rounding) {
	if len(r.Strengths) == 0 {
		return
	}
	var weights []string
	for _, c := range r.Weights {
		if off := document.Off(c.Least*100, c.Most*100, 1); off != "" {
			weights = append(weights, fmt.Sprintf("%s %s %%", c.Colour, off))
		}
	}
	weight := "baits weigh as by the recipe"
	if len(weights) > 0 {
		weight = "what a bait has of a colour weighs otherwise than by the recipe: " + strings.Join(weights, ", ")
	}
	p.Linef("")
	p.Wrapped("  ", document.Rounding(r.To, weight, r.Strengths))
}
