package cool

import (
	"context"
	"math"
	"testing"
)

// smallBlock is 1 kg of aluminium with 20 mL of plastic at 1.8 J/(mL K) a shot.
func smallBlock() *Block {
	return &Block{MassG: 1000, HeatJPerGC: 0.896, AirC: 20, BetweenS: 40, Baits: 1, BaitML: 20, PlasticJMLC: 1.8}
}

// What the plastic loses the block gets: 20 g at 1.8 J/gK from 170 to 30 C warm 1 kg
// of aluminium by 20 1.8 140/896 = 5.625 C (worked out by hand).
func TestBlockTakesTheHeatOfTheBait(t *testing.T) {
	g, err := newBody(t, box(10, 12, 20), false).NewGrid(context.Background(), 0.9, 0)
	if err != nil {
		t.Fatal(err)
	}
	b := smallBlock()
	wall := newWall(20, b, g)
	f := newField(g, 170, wall.c)
	heat, dt := 170*g.total, 0.01
	for range 4000 {
		f.advance(1, wall.c)
		now := f.heat(wall.c)
		wall.take(heat, now, dt)
		heat = now
	}
	want := 20 + 20*1.8*(170-f.mean(wall.c))/896
	// f.mean was taken before the wall moved by its last step; there it hardly does.
	if math.Abs(wall.c-want) > 1e-6 {
		t.Errorf("block at %.6f C, want %.6f C", wall.c, want)
	}
	if rise := 5.625 * (170 - wall.c) / 140; math.Abs(wall.c-20-rise) > 0.01 {
		t.Errorf("block warmed by %.4f C, want %.4f C", wall.c-20, rise)
	}
}

// A block of a few grams is never warmer than it and the plastic are together: 20 mL at
// 1.8 J/(mL K) from 170 C and 2 g at 0.896 J/(g K) from 20 C are both at 162.89 C in the
// end (worked out by hand).
func TestLightBlockIsNoWarmerThanThePlastic(t *testing.T) {
	light := smallBlock()
	light.MassG = 2
	r, err := newBody(t, box(10, 12, 20), false).Cool(context.Background(), Ask{MeltC: 170, MoldC: 20, OpenC: 60, GridMM: 0.9, Block: light})
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Shots[0]; s.OpenAfter != nil || s.OpenedC < 60 || s.OpenedC > 162.89 {
		t.Errorf("opened with the mold at %.2f C: %q", s.OpenedC, s.Reason)
	}
}

// A block that loses heat to the air cools towards it by Newton's law.
func TestBlockCoolsInTheAir(t *testing.T) {
	b := smallBlock()
	b.LossWPerC = 2
	wall := &wallState{c: 60, block: b}
	for range 100 {
		wall.rest(6)
	}
	if want := 20 + 40*math.Exp(-2*600/896.0); math.Abs(wall.c-want) > 1e-9 {
		t.Errorf("%.6f C, want %.6f C", wall.c, want)
	}
}

func TestShotsTakeLongerAsTheMoldWarms(t *testing.T) {
	body := newBody(t, box(10, 12, 20), false)
	a := Ask{MeltC: 170, MoldC: 25, OpenC: 60, GridMM: 0.9, Block: smallBlock()}
	r, err := body.Cool(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for i, s := range r.Shots {
		if s.OpenAfter == nil {
			if i != len(r.Shots)-1 || s.Reason == "" || s.OpenedC < a.OpenC {
				t.Errorf("shot %d: never, mold at %.1f C: %q", s.Shot, s.OpenedC, s.Reason)
			}
			break
		}
		if !(*s.OpenAfter > last) {
			t.Errorf("shot %d after %g s, the one before %g s", s.Shot, *s.OpenAfter, last)
		}
		last = *s.OpenAfter
	}
	// Nothing is lost to the air, so the mold passes 60 C in the end: 35 C at 5 C a shot.
	if end := r.Shots[len(r.Shots)-1]; end.OpenAfter != nil || end.Shot < 6 || end.Shot > 10 {
		t.Errorf("the last shot is %+v", end)
	}
	cold := *a.Block
	cold.MassG, cold.LossWPerC = 1e8, 0
	a.Block = &cold
	heavy, err := body.Cool(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	a.Block = nil
	heldCold, err := body.Cool(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if len(heavy.Shots) != DefaultShots || math.Abs(*heavy.Shots[9].OpenAfter / *heldCold.TimeS - 1) > 1e-4 {
		t.Errorf("a heavy block is no held mold: %d shots", len(heavy.Shots))
	}
}

// The diffusivity that was fitted gives the time it was fitted to, and the time of
// another bait then follows.
func TestCalibration(t *testing.T) {
	body := newBody(t, box(10, 12, 20), false)
	for _, block := range []*Block{nil, smallBlock()} {
		a := Ask{MeltC: 170, MoldC: 25, OpenC: 60, GridMM: 0.9, ContactMM: 0.05, OpensAfterS: 77, Block: block}
		if block != nil {
			a.Block.LossWPerC = 3
		}
		r, err := body.Cool(context.Background(), a)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(*r.TimeS-77) > 1e-6 {
			t.Errorf("fitted to 77 s, gives %.9f s", *r.TimeS)
		}
	}
}
