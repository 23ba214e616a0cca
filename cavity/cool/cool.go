package cool

import (
	"context"
	"fmt"
	"math"

	"bellyline/mesh/vector"
)

// Ask is what a setting time is asked for. Temperatures are degrees Celsius.
type Ask struct {
	MeltC, MoldC, OpenC float64 // poured, mold at the first shot, hottest place when it is opened
	DiffusivityMM2S     float64 // of the plastic; 0: DefaultDiffusivity
	ContactMM           float64 // see invariant 3
	GridMM              float64 // pitch; 0: DefaultCells from the thickest place to the wall
	Block               *Block  // nil: the mold stays at MoldC
	Shots               int     // how many shots are looked at with a block; 0: 10
	OpensAfterS         float64 // what the shop found for the first shot: the diffusivity is made to fit; 0: not known
}

const (
	// DefaultDiffusivity is assumed for soft vinyl, in mm2/s: published figures run from
	// 0.08 to 0.11 (a data page on plasticized PVC gives 0.090). A shop calibrates.
	DefaultDiffusivity = 0.1
	// DefaultCells is how many cells lie between the thickest place and the wall. The
	// half makes the wall of a plain body lie between two nodes.
	DefaultCells = 16.5
	// fewestCells is below what a setting time is worth.
	fewestCells = 4
	// fewCells is below what is accurate to half a percent of the whole difference.
	fewCells = 15
	// coarser is how much coarser the grid is that shows the effect of the grid.
	coarser = 1.5
	// oddLowMM2S and oddHighMM2S are half of and twice what is published: a fit beyond
	// is no fit of vinyl.
	oddLowMM2S, oddHighMM2S = 0.04, 0.22
	// DefaultShots is how many shots are followed while a mold warms.
	DefaultShots = 10
)

// Result is when a bait has set.
type Result struct {
	File            string     `json:"file"`
	TimeS           *float64   `json:"time_s"` // of the first shot, until the hottest place is at the opening temperature; null: never
	LastSpotMM      [3]float64 `json:"last_spot_mm"`
	ThickestMM      float64    `json:"thickest_mm"` // diameter of the largest ball inside
	ThickestAtMM    [3]float64 `json:"thickest_at_mm"`
	GridMM          float64    `json:"grid_mm"`
	Cells           int        `json:"cells"`
	CellsToWall     float64    `json:"cells_to_wall"` // from the thickest place
	GridEffectS     *float64   `json:"grid_effect_s"` // what the grid still does to the time, from a coarser one
	CoarseGridMM    float64    `json:"coarse_grid_mm"`
	Curve           []Moment   `json:"curve"` // of the first shot
	MeanAtOpeningC  float64    `json:"mean_at_opening_c"`
	DiffusivityMM2S float64    `json:"diffusivity_mm2_s"`
	ContactMM       float64    `json:"contact_mm"`
	Calibrated      bool       `json:"calibrated"`
	MeltC           float64    `json:"melt_c"`
	MoldC           float64    `json:"mold_c"`
	OpenC           float64    `json:"open_c"`
	PlateS          float64    `json:"plate_s"` // a wide plate and a ball as thick: the time lies between
	BallS           float64    `json:"ball_s"`
	Block           *Block     `json:"block"`
	Shots           []Warm     `json:"shots"`
	Warnings        []string   `json:"warnings"`
}

// Warm is one shot into a mold that has warmed.
type Warm struct {
	Shot      int      `json:"shot"`
	MoldC     float64  `json:"mold_c"`        // when the bait is in
	OpenedC   float64  `json:"mold_opened_c"` // when it is opened
	OpenAfter *float64 `json:"open_after_s"`  // null: never
	Reason    string   `json:"reason,omitempty"`
}

// Cool finds when a bait can be taken out. Errors wrap ErrBody, ErrTemperature, and
// ErrNever where the mold is not below the opening temperature to begin with. Sweeps
// over the grid go with the cells to the wall, about thirty for each, and cells with
// their third power. It stops when ctx ends.
func (b *Body) Cool(ctx context.Context, a Ask) (*Result, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	if a.DiffusivityMM2S == 0 {
		a.DiffusivityMM2S = DefaultDiffusivity
	}
	pitch := a.GridMM
	if pitch == 0 {
		pitch = b.radiusMM / DefaultCells
	}
	cells := b.radiusMM / pitch
	if cells < fewestCells {
		return nil, fmt.Errorf("%w: a grid of %.3g mm has only %.1f cells from the thickest place to the wall; give %.3g mm or finer",
			ErrBody, pitch, cells, b.radiusMM/DefaultCells)
	}
	g, err := b.NewGrid(ctx, pitch, a.ContactMM)
	if err != nil {
		return nil, err
	}
	if a.OpensAfterS > 0 {
		if a.DiffusivityMM2S, err = g.calibrate(ctx, a); err != nil {
			return nil, err
		}
	}
	r := b.newResult(a, g, cells)
	if err := r.runShots(ctx, a, g); err != nil {
		return nil, err
	}
	if r.Calibrated && (r.DiffusivityMM2S < oddLowMM2S || r.DiffusivityMM2S > oddHighMM2S) {
		r.Warnings = append(r.Warnings, fmt.Sprintf("a diffusivity of %.3g mm2/s is not that of soft vinyl, which has about 0.1: are the temperatures, the bait and the time those of one shot?", r.DiffusivityMM2S))
	}
	if cells < fewCells {
		r.Warnings = append(r.Warnings, fmt.Sprintf("only %.1f cells lie between the thickest place and the wall: see the effect of the grid", cells))
	}
	return r, r.gridEffect(ctx, a, b)
}

func (b *Body) newResult(a Ask, g *Grid, cells float64) *Result {
	thickest, at := b.Thickest()
	return &Result{
		ThickestMM: thickest, ThickestAtMM: vector.XYZ(at), GridMM: g.h, Cells: g.Cells(), CellsToWall: cells,
		DiffusivityMM2S: a.DiffusivityMM2S, ContactMM: a.ContactMM, Calibrated: a.OpensAfterS > 0,
		MeltC: a.MeltC, MoldC: a.MoldC, OpenC: a.OpenC, Block: a.Block, Shots: []Warm{}, Warnings: []string{},
		PlateS: PlateS(thickest, a.DiffusivityMM2S, a.MeltC, a.MoldC, a.OpenC),
		BallS:  BallS(thickest, a.DiffusivityMM2S, a.MeltC, a.MoldC, a.OpenC),
	}
}

func (a Ask) setting() setting {
	return setting{meltC: a.MeltC, openC: a.OpenC, diffusivity: a.DiffusivityMM2S}
}

// runShots cools the first shot, and the next ones as a block warms.
func (r *Result) runShots(ctx context.Context, a Ask, g *Grid) error {
	wall := newWall(a.MoldC, a.Block, g)
	shots := 1
	if a.Block != nil {
		if shots = a.Shots; shots == 0 {
			shots = DefaultShots
		}
	}
	for n := 1; n <= shots; n++ {
		warm := Warm{Shot: n, MoldC: wall.c}
		if wall.c >= a.OpenC {
			warm.OpenedC, warm.Reason = wall.c, ErrNever.Error()
			r.Shots = append(r.Shots, warm)
			return nil
		}
		s, err := g.coolShot(ctx, a.setting(), wall)
		if err != nil {
			return err
		}
		if n == 1 {
			r.take(s)
		}
		warm.OpenedC = s.moldC
		if math.IsNaN(s.time) {
			warm.Reason = ErrNever.Error()
		} else {
			warm.OpenAfter = &s.time
		}
		r.Shots = append(r.Shots, warm)
		if warm.OpenAfter == nil {
			return nil
		}
		wall.rest(wall.betweenS())
	}
	return nil
}

// take keeps the first shot: its curve in a hundred points at most.
func (r *Result) take(s *shot) {
	r.LastSpotMM, r.MeanAtOpeningC = vector.XYZ(s.spot), s.meanC
	if !math.IsNaN(s.time) {
		r.TimeS = &s.time
	}
	const points = 100
	every := len(s.curve)/points + 1
	for i, m := range s.curve {
		if i%every == 0 || i == len(s.curve)-1 {
			r.Curve = append(r.Curve, m)
		}
	}
}

// gridEffect runs the first shot on a coarser grid: errors go with the square of
// the pitch, so the difference tells what is left at the finer one.
func (r *Result) gridEffect(ctx context.Context, a Ask, b *Body) error {
	if r.TimeS == nil {
		return nil
	}
	r.CoarseGridMM = r.GridMM * coarser
	g, err := b.NewGrid(ctx, r.CoarseGridMM, a.ContactMM)
	if err != nil {
		return err
	}
	s, err := g.coolShot(ctx, a.setting(), newWall(a.MoldC, a.Block, g))
	if err != nil {
		return err
	}
	if effect := (s.time - *r.TimeS) / (coarser*coarser - 1); !math.IsNaN(effect) {
		r.GridEffectS = &effect
	}
	return nil
}

// calibrate finds the diffusivity with which the first shot can be opened after the
// time that the shop knows. All times go with one over the diffusivity, but for
// what a block loses to the air meanwhile: that takes a few rounds.
func (g *Grid) calibrate(ctx context.Context, a Ask) (float64, error) {
	const rounds, near = 30, 1e-9
	for range rounds {
		s, err := g.coolShot(ctx, a.setting(), newWall(a.MoldC, a.Block, g))
		if err != nil {
			return 0, err
		}
		if math.IsNaN(s.time) {
			return 0, fmt.Errorf("%w: with this block the first shot is never opened, so nothing can be fitted to it", ErrTemperature)
		}
		off := s.time / a.OpensAfterS
		a.DiffusivityMM2S *= off
		if !(a.DiffusivityMM2S >= slowestMM2S && a.DiffusivityMM2S <= fastestMM2S) {
			return 0, fmt.Errorf("%w: to open after %g s it would need a diffusivity of %.3g mm2/s; soft vinyl has about 0.1", ErrBody, a.OpensAfterS, a.DiffusivityMM2S)
		}
		if math.Abs(off-1) < near || a.Block == nil {
			break
		}
	}
	return a.DiffusivityMM2S, nil
}
