package bench

import (
	"fmt"
	"strconv"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate"
)

// group is one step of the pour card as the page shows it.
type group struct {
	Title    string   `json:"title"`
	Cautions []string `json:"cautions"` // of this step; they come first
	Text     []string `json:"text"`
	Rows     []row    `json:"rows"`
}

// row is one number in both systems. Key is its place in the JSON of pour, in whose
// unit Metric is.
type row struct {
	Key    string `json:"key"`
	Colour string `json:"colour"` // empty: of all
	Label  string `json:"label"`
	Metric string `json:"metric"`
	US     string `json:"us"`
	Large  bool   `json:"large"`
}

// sheet puts a pour into rows, in the order of the work. It computes nothing.
func sheet(p *laminate.Pour) []group {
	groups := []group{setupGroup(p), coldGroup(p), heatGroup(p), drawGroup(p), weighGroup(p), lineGroup(p), shotGroup(p), orderGroup(p)}
	if p.Notes != "" {
		notes := newGroup("Notes")
		notes.Text = strings.Split(p.Notes, "\n")
		groups = append(groups, notes)
	}
	return groups
}

// both parts a text like "62.4 mL (2.10 fl oz)" into its two systems.
func both(text string) (metric, us string) {
	metric, us, _ = strings.Cut(strings.TrimSuffix(text, ")"), " (")
	return metric, us
}

func (g *group) add(key, colour, label, metric, us string) *row {
	g.Rows = append(g.Rows, row{Key: key, Colour: colour, Label: label, Metric: metric, US: us})
	return &g.Rows[len(g.Rows)-1]
}

func (g *group) addVolume(key, colour, label string, ml float64) *row {
	metric, us := both(units.Volume(ml).String())
	return g.add(key, colour, label, metric, us)
}

func (g *group) addMass(key, colour, label string, grams float64) *row {
	metric, us := both(units.Mass(grams).String())
	return g.add(key, colour, label, metric, us)
}

func (g *group) addLength(key, colour, label string, mm float64) {
	metric, us := both(units.Length(mm).String())
	g.add(key, colour, label, metric, us)
}

// addHeat puts C into the metric column and F into the other.
func (g *group) addHeat(key, colour, label string, c float64) *row {
	us, metric := both(units.Celsius(c).String())
	return g.add(key, colour, label, metric, us)
}

func newGroup(title string, steps ...laminate.Step) group {
	g := group{Title: title, Cautions: []string{}, Text: []string{}, Rows: []row{}}
	for _, s := range steps {
		g.Cautions = append(g.Cautions, laminate.CautionsAt(s)...)
	}
	return g
}

func setupGroup(p *laminate.Pour) group {
	g := newGroup("Barrels and mold")
	for _, c := range p.Setup {
		text := fmt.Sprintf("%s (%s) goes into the %s barrel", c.Name, c.Material, c.Barrel)
		if len(p.Setup) == 1 {
			text = fmt.Sprintf("%s (%s) goes into the injector", c.Name, c.Material)
		}
		if c.Half != "" {
			text += " and lies in the " + c.Half
		}
		g.Text = append(g.Text, text+".")
	}
	if p.Across != nil {
		g.Text = append(g.Text, p.Across.Says, p.Across.Remedy)
	} else if len(p.Setup) == 2 {
		g.Text = append(g.Text, fmt.Sprintf("Turn the block until the %s barrel's stream faces the %s.", p.Setup[0].Barrel, p.Setup[0].Half))
	}
	return g
}

func coldGroup(p *laminate.Pour) group {
	g := newGroup("Measure cold", laminate.Measure, laminate.Degas)
	heatingRows(&g, p, true)
	return g
}

// heatingRows lists what is measured for each heating: cold with the plastisol, or
// what is stirred in hot. Heatings that are alike come once.
func heatingRows(g *group, p *laminate.Pour, cold bool) {
	groups := p.HeatingGroups()
	for _, heating := range groups {
		at := heatingIndex(p, heating)
		name := ""
		if len(groups) > 1 {
			name = show.HeatingsName(heating) + ": "
		}
		for k, c := range heating.Colours {
			key := fmt.Sprintf("heatings.%d.colours.%d.", at, k)
			if cold {
				g.add(key+"plastisol_g", c.Name, name+"plastisol", grams(c.PlastisolG, 0), c.CupsText).Large = true
			}
			for n, d := range c.Doses {
				if cold == (d.When == "before heating") {
					g.add(fmt.Sprintf("%sdoses.%d.weigh_g", key, n), c.Name, name+d.Additive, d.Weigh, d.Measure)
				}
			}
		}
	}
	if n := p.HeatingCount(); cold && n > 1 {
		g.Text = append(g.Text, fmt.Sprintf("%d heatings. From the second on: on top of what barrel and cup still hold of that colour.", n))
	}
}

// heatingIndex is where a group's first heating stands in the list.
func heatingIndex(p *laminate.Pour, g laminate.HeatingGroup) int {
	first := 1
	for i, h := range p.Heatings {
		if first == g.Runs[0].First {
			return i
		}
		first += h.Times
	}
	return 0
}

func grams(g float64, digits int) string { return strconv.FormatFloat(g, 'f', digits, 64) + " g" }

func heatGroup(p *laminate.Pour) group {
	g := newGroup("Heat", laminate.Heat)
	for i, c := range p.Setup {
		g.addHeat(fmt.Sprintf("setup.%d.pour_c", i), c.Name, "heat to", c.PourC).Large = true
		g.addHeat(fmt.Sprintf("setup.%d.ceiling_c", i), c.Name, "never past", c.CeilingC)
	}
	if len(p.Setup) > 1 {
		us, metric := both(units.DifferenceText(p.MaxApartC))
		g.add("max_apart_c", "", "apart at most when shot", metric, us)
	}
	heatingRows(&g, p, false)
	return g
}

func drawGroup(p *laminate.Pour) group {
	g := newGroup("Draw and shoot", laminate.Shoot)
	for i, b := range p.Load.Barrels {
		key := fmt.Sprintf("load.barrels.%d.", i)
		g.addVolume(key+"draw_ml", b.Colour, "draw", b.DrawML).Large = true
		if b.DrawMM > 0 {
			g.addLength(key+"draw_mm", b.Colour, "plunger back to", b.DrawMM)
			g.addLength(key+"travel_mm", b.Colour, "one mold moves it", b.TravelMM)
		}
	}
	g.add("load.shots_per_load", "", "molds to a draw", fmt.Sprint(p.Load.ShotsPerLoad), "")
	g.add("load.loads", "", "draws in all", fmt.Sprint(p.Load.Loads), "")
	g.add("order.shots", "", "shots in all", fmt.Sprint(p.Order.Shots), "")
	if len(p.Setup) > 1 {
		g.Text = append(g.Text, p.Load.Limiting+" runs out first.")
	}
	return g
}

func weighGroup(p *laminate.Pour) group {
	g := newGroup("Weigh")
	if p.Across != nil {
		for i, side := range p.Across.Sides {
			g.addMass(fmt.Sprintf("across.sides.%d.mass_g", i), "", "a bait "+side.Lies+", cold", side.MassG).Large = true
			g.addMass(fmt.Sprintf("across.sides.%d.mass_unfed_g", i), "", "too light below", side.MassUnfedG)
		}
		return g
	}
	label := "a bait, cold"
	if from := show.FromWeighing(p); from != "" {
		label += ", " + from
	}
	g.addMass("bait.mass_g", "", label, p.Bait.MassG).Large = true
	g.addMass("bait.reject_below_g", "", "too light below", p.Bait.RejectBelowG)
	g.addMass("bait.mass_fed_g", "", "at most, fed all the way", p.Bait.MassFedG)
	g.addVolume("bait.cavity_ml", "", "the cavity holds", p.Bait.VolumeML)
	return g
}
