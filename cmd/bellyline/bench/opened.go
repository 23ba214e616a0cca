package bench

import (
	"cmp"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/laminate"
	"bellyline/mesh/vector"
)

// opened tells the page what was opened and what can be changed.
type opened struct {
	ID       string              `json:"id"`
	Name     string              `json:"name"`
	Bait     string              `json:"bait"`
	Kind     string              `json:"kind"`     // bait, weighed, broken or half
	Reading  reading             `json:"reading"`  // how the model was taken
	Measured *cavity.Measurement `json:"measured"` // as "measure --json" prints it; null without a model of a bait
	Half     *hollow.Half        `json:"half"`     // as "hollows --json" prints it
	Views    []hollowView        `json:"views"`    // the half's hollows from above
	// Tables of the model and of the hollows as text, in both systems.
	ModelRows  []row        `json:"model_rows"`
	HollowRows []hollowRow  `json:"hollow_rows"`
	Outline    [][2]float64 `json:"outline"` // of its block
	Back       [3]float64   `json:"back"`
	Nose       [3]float64   `json:"nose"`
	Centre     [3]float64   `json:"centre"` // of the model; the shape's corners are relative to it
	LowMM      float64      `json:"low_mm"` // of the bait along its back
	HighMM     float64      `json:"high_mm"`
	LongMM     [2]float64   `json:"long_mm"` // along its nose direction, tail first
	WideMM     [2]float64   `json:"wide_mm"` // to its left
	Drawn      int          `json:"drawn"`   // facets of the thinned copy
	Wrong      int          `json:"wrong"`   // edges lit
	Faulty     int          `json:"faulty"`  // facets lit
	Notes      []string     `json:"notes"`   // what was assumed
	Starter    bool         `json:"starter"` // the shop is the built-in one
	Fixed      bool         `json:"fixed"`   // mold halves say how many cavities there are
	Settings   settings     `json:"settings"`
	Choices    choices      `json:"choices"`
	Cautions   []string     `json:"cautions"` // that hold at every step
}

// choices are what the shop has.
type choices struct {
	Injectors []injectorChoice `json:"injectors"`
	Vessels   []string         `json:"vessels"`
	Additives []string         `json:"additives"`
}

type injectorChoice struct {
	Name    string   `json:"name"`
	Drive   string   `json:"drive"`
	Barrels []string `json:"barrels"`
}

const starterNote = "No mold file was opened. Feed, injector, cup and plastisol are those of an invented shop: cups, doses and weights are not yours until you open your own mold file."

const halfNote = "This looks like a mold half: hollows open in a flat face of it. If it is one, say so under \"The model\"; the numbers here take it for a bait."

func (w *work) opened(id string) opened {
	o := opened{
		ID: id, Name: w.source.Name, Bait: w.Mold.Bait, Kind: w.kind(), Reading: w.reading, Measured: w.Measured,
		Half: w.Half, Views: []hollowView{}, ModelRows: []row{}, HollowRows: []hollowRow{}, Notes: []string{}, Settings: w.initial(), Choices: w.choices(), Cautions: laminate.CautionsAt(laminate.Always),
	}
	if w.source.Starter && w.Half == nil {
		o.Notes, o.Starter = append(o.Notes, starterNote), true
	}
	if w.looksLikeHalf {
		o.Notes = append([]string{halfNote}, o.Notes...)
	}
	o.Fixed = w.Mold.Halves != nil
	if m := w.Mold.Model; m != nil {
		o.Back, o.Nose = vector.XYZ(m.Back), vector.XYZ(m.Nose)
	}
	if c := w.Job.Cavity; c != nil {
		if f, err := c.Frame(); err == nil {
			o.Back, o.Nose = vector.XYZ(f.Back), vector.XYZ(f.Nose)
		}
		o.LowMM, o.HighMM = c.Heights()
		o.LongMM, o.WideMM = w.long, w.wide
	}
	if w.Measured != nil {
		o.ModelRows = modelRows(w.Measured)
	}
	if w.shape != nil {
		o.Centre = vector.XYZ(w.shape.centre)
		o.Drawn, o.Wrong, o.Faulty = len(w.shape.facets), len(w.shape.wrong), len(w.shape.faulty)
	}
	if w.Half != nil {
		o.Views, o.Outline = hollowViews(w.Half), points(w.Half.Outline)
		o.HollowRows = hollowRows(w.Half)
	}
	return o
}

func (w *work) kind() string {
	switch {
	case w.Half != nil:
		return "half"
	case w.isBroken():
		return "broken"
	case w.Job.Cavity == nil:
		return "weighed"
	}
	return "bait"
}

func (w *work) choices() choices {
	var c choices
	for name, in := range w.Mold.Shop.Injectors {
		choice := injectorChoice{Name: name, Drive: string(in.Drive)}
		for _, b := range in.Barrels {
			choice.Barrels = append(choice.Barrels, b.Name)
		}
		c.Injectors = append(c.Injectors, choice)
	}
	slices.SortFunc(c.Injectors, func(a, b injectorChoice) int { return cmp.Compare(a.Name, b.Name) })
	for name := range w.Mold.Shop.Vessels {
		c.Vessels = append(c.Vessels, name)
	}
	slices.Sort(c.Vessels)
	for name := range w.Mold.Shop.Additives {
		c.Additives = append(c.Additives, name)
	}
	slices.Sort(c.Additives)
	return c
}
