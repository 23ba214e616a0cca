package laminate

import (
	"context"
	"fmt"
	"math"

	"bellyline/cavity/units"
	"bellyline/cavity/water"
)

// Pour is the answer to a Job: one value that table, JSON, card and page show.
type Pour struct {
	BaitName    string        `json:"bait_name"`
	Mold        string        `json:"mold"`
	Cavities    int           `json:"cavities"`
	Injector    string        `json:"injector"`
	Drive       Drive         `json:"drive"` // empty for one barrel
	Shot        Shot          `json:"shot"`
	Line        *LineResult   `json:"line"`          // null for one colour
	Across      *SideBySide   `json:"across"`        // null for a laminate
	Start       *UnequalStart `json:"unequal_start"` // null when the plungers start level
	ShotsPerCup []CupShots    `json:"shots_per_cup"`
	Setup       []ColourPlan  `json:"setup"`
	Heatings    []Heating     `json:"heatings"`
	Load        Load          `json:"load"`
	Order       Order         `json:"order"`
	Left        *Left         `json:"left"`
	Doses       []Dose        `json:"doses"`
	Rounding    Rounding      `json:"rounding"`
	Bait        Bait          `json:"bait"`
	Weighed     *WeighedBack  `json:"weighed_back"`       // null when nothing was weighed
	DoseFor     *DoseFor      `json:"dose_for,omitempty"` // when a weight was asked for
	Water       InWater       `json:"water"`
	MaxApartC   float64       `json:"max_apart_c"`
	Money       string        `json:"money"`
	Notes       string        `json:"notes,omitempty"` // as the job has them
	Warnings    []string      `json:"warnings"`
	Cautions    []string      `json:"cautions"`

	Views *Views `json:"-"` // for pictures; with Streams, nil without a model
}

// ColourPlan is where one colour goes and how hot.
type ColourPlan struct {
	Name       string  `json:"name"`
	Material   string  `json:"material"`
	Barrel     string  `json:"barrel"`
	Half       string  `json:"mold_half"`
	PourC      float64 `json:"pour_c"`
	CeilingC   float64 `json:"ceiling_c"`
	MarkML     float64 `json:"mark_ml"`          // the vessel is filled no higher, cold
	DensityGML float64 `json:"density_g_ml"`     // of the mix, cold
	HotGML     float64 `json:"hot_density_g_ml"` // of the mix, at pouring temperature
}

// Pour works a job out. Its cost is a few cuts of the bait's model; the rest is
// arithmetic.
func (j Job) Pour(ctx context.Context) (*Pour, error) {
	if err := j.check(); err != nil {
		return nil, err
	}
	r, line, weighed, err := j.recipe(ctx)
	if err != nil {
		return nil, err
	}
	shot := r.shot()
	if err := r.fits(shot); err != nil {
		return nil, err
	}
	heatings, err := r.heatings(shot)
	if err != nil {
		return nil, err
	}
	order := r.order(shot, heatings)
	cups := make([]float64, len(order.Colours))
	for i, c := range order.Colours {
		cups[i] = c.Cups
	}
	p := &Pour{
		BaitName: j.Bait, Mold: j.Mold, Cavities: j.Cavities, Injector: j.Injector.Name, Drive: j.Injector.Drive,
		Shot: shot, Line: line, ShotsPerCup: r.shotsPerCup(shot), Setup: r.setup(),
		Heatings: heatings, Load: r.load(shot, heatings), Order: order, Left: r.left(shot),
		Doses: r.doses(cups), Bait: r.weighedBait(weighed), Weighed: weighed, MaxApartC: j.MaxDifferenceC, Money: j.Money, Notes: j.Notes, Cautions: Cautions(),
	}
	if p.Rounding, err = r.rounding(heatings); err != nil {
		return nil, err
	}
	if err := r.checkHook(p.Bait); err != nil {
		return nil, err
	}
	p.Water = r.inWater(p.Bait)
	if j.Across != nil {
		p.Water.Falls = []water.Fall{} // its baits do not weigh alike
	}
	if p.Across, err = r.sideBySide(ctx); err != nil {
		return nil, err
	}
	if p.Start, err = r.unequalStart(ctx, shot, line); err != nil {
		return nil, err
	}
	p.Warnings = append(r.warnings(p), weighed.warnings(r, p.Bait)...)
	if j.Streams && j.Cavity != nil {
		if p.Views, err = j.views(ctx, p); err != nil {
			return nil, err
		}
	}
	if j.Streams && line != nil && line.Needs == "" && j.Cavity != nil && j.Across == nil && len(j.Colours) == 2 {
		var more []string
		if line.Lands, more, err = j.lands(ctx, line); err != nil {
			return nil, err
		}
		p.Warnings = append(p.Warnings, more...)
	}
	return p, nil
}

// recipe blends the mixes, asks for the line, lets the barrels answer and takes
// what was weighed.
func (j Job) recipe(ctx context.Context) (recipe, *LineResult, *WeighedBack, error) {
	r := recipe{Job: j, denser: 1, wider: 1}
	for _, c := range j.Colours {
		b, err := c.Mix.Blend()
		if err != nil {
			return r, nil, nil, fmt.Errorf("colour %q: %w", c.Name, err)
		}
		r.blends = append(r.blends, b)
	}
	var line *LineResult
	var err error
	if r.asked, line, err = j.askLines(ctx); err != nil {
		return r, nil, nil, err
	}
	if r.shares, r.fixed, err = j.Injector.Delivered(r.asked); err != nil {
		return r, nil, nil, err
	}
	var back WeighedBack
	if back.Stroke, err = r.weighStroke(); err != nil {
		return r, nil, nil, err
	}
	if line != nil {
		if err = r.deliver(ctx, line); err != nil {
			return r, nil, nil, err
		}
	}
	r.cavML = r.cavityML()
	if back.Baits, err = r.weighBaits(); err != nil {
		return r, nil, nil, err
	}
	if line != nil && line.Needs == "" && j.Across == nil {
		line.Agree = r.agree()
	}
	if back == (WeighedBack{}) {
		return r, line, nil, nil
	}
	return r, line, &back, nil
}

func (r recipe) setup() []ColourPlan {
	var list []ColourPlan
	for i, c := range r.Colours {
		p, half := c.Mix.Plastisol, c.Half
		if r.Across != nil {
			half = "" // both colours lie in both
		}
		list = append(list, ColourPlan{
			Name: c.Name, Material: p.Name, Barrel: r.Injector.Barrels[i].Name, Half: half,
			PourC: float64(p.Pour), CeilingC: float64(p.Ceiling), MarkML: r.Vessel.MarkML(r.blends[i]),
			DensityGML: r.blends[i].ColdDensity, HotGML: r.blends[i].HotDensity,
		})
	}
	return list
}

func (r recipe) warnings(p *Pour) []string {
	w := []string{}
	if p.Across != nil {
		w = append(w, p.Across.Says)
	}
	if r.Cavity != nil {
		w = append(w, r.Cavity.Warnings...)
	}
	if len(r.Feed) == 0 {
		w = append(w, "no feed is given: nothing but the baits is counted, as on an open mold")
	}
	if r.FedAssumed && r.Cavity != nil { // a weighed bait weighs what it weighs
		w = append(w, fmt.Sprintf("fed share assumed %.0f %%: weigh ten baits (\"weighings\" in the mold file); until then a bait may weigh %.2f to %.2f g",
			r.Fed*100, p.Bait.MassUnfedG, p.Bait.MassFedG))
	}
	if p.Line != nil && p.Across == nil {
		w = append(w, p.Line.shapeWarnings(r.Job)...)
	}
	if p.Start != nil {
		w = append(w, p.Start.Warning())
	}
	if p.Line != nil && p.Across == nil {
		w = append(w, r.movedWarnings(p.Line)...)
	}
	w = append(w, r.temperatureWarning()...)
	return append(w, r.doseWarnings(p.Heatings)...)
}

// temperatureWarning tells when two colours are set further apart than the shop allows:
// those furthest apart.
func (r recipe) temperatureWarning() []string {
	coldest, hottest := 0, 0
	for i, c := range r.Colours {
		if c.Mix.Plastisol.Pour < r.Colours[coldest].Mix.Plastisol.Pour {
			coldest = i
		}
		if c.Mix.Plastisol.Pour > r.Colours[hottest].Mix.Plastisol.Pour {
			hottest = i
		}
	}
	first, second := r.Colours[min(coldest, hottest)], r.Colours[max(coldest, hottest)]
	a, b := first.Mix.Plastisol.Pour, second.Mix.Plastisol.Pour
	if apart := math.Abs(float64(a - b)); r.MaxDifferenceC > 0 && apart > r.MaxDifferenceC {
		return []string{fmt.Sprintf("%s is poured at %v and %s at %v: more than %s apart, so the colder, thicker one will spread and move the line towards the other",
			first.Name, a, second.Name, b, units.DifferenceText(r.MaxDifferenceC))}
	}
	return nil
}
