package cool

import "math"

// Block is a mold that warms: a lump of metal at one temperature that takes the
// heat of every shot and loses some to the air. Aluminium spreads heat a thousand
// times faster than vinyl does, so that one temperature will do.
type Block struct {
	MassG       float64 `json:"mass_g"`
	HeatJPerGC  float64 `json:"heat_j_per_g_c"`     // specific heat; aluminium 0.896
	LossWPerC   float64 `json:"loss_w_per_c"`       // to the air, for each degree
	AirC        float64 `json:"air_c"`              //
	BetweenS    float64 `json:"between_s"`          // from opening until the next shot is in
	Baits       int     `json:"baits"`              // that it cools at once
	ExtraML     float64 `json:"extra_ml"`           // runner and sprue: taken as cooling like the baits
	BaitML      float64 `json:"bait_ml"`            // one bait
	PlasticJMLC float64 `json:"plastic_j_per_ml_c"` // heat of the plastic by volume
}

// wallState is the mold as it warms.
type wallState struct {
	c     float64
	block *Block
	gain  float64 // degrees of the block for each degree that a cell of the bait loses
	cells float64 // of the bait
}

// newWall begins a row of shots; block may be nil.
func newWall(startC float64, b *Block, g *Grid) *wallState {
	s := &wallState{c: startC, block: b, cells: g.total}
	if b != nil {
		perCell := b.BaitML / g.total * b.PlasticJMLC // J per degree
		plastic := (float64(b.Baits)*b.BaitML + b.ExtraML) / b.BaitML
		s.gain = perCell * plastic / (b.MassG * b.HeatJPerGC)
	}
	return s
}

func (s *wallState) betweenS() float64 {
	if s.block == nil {
		return 0
	}
	return s.block.BetweenS
}

// take gives the block the heat of one advance, in cells by degrees before and after,
// and lets it lose some to the air. A block so light that the plastic outweighs it
// by far warms within the advance, until both are equally warm and no further.
func (s *wallState) take(before, after, dt float64) {
	if s.block == nil {
		return
	}
	both := (s.c + s.gain*before) / (1 + s.gain*s.cells)
	s.c = min(s.c+s.gain*(before-after), max(s.c, both))
	s.rest(dt)
}

// rest lets the block cool in the air: exactly, since nothing else happens.
func (s *wallState) rest(dt float64) {
	if b := s.block; b != nil {
		s.c = b.AirC + (s.c-b.AirC)*math.Exp(-dt*b.LossWPerC/(b.MassG*b.HeatJPerGC))
	}
}
