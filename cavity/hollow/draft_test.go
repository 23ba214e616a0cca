package hollow

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/vector"
)

// A box standing square to the pull has nothing undercut, wherever it parts; its
// walls are upright and its floors level.
func TestDraftOfABox(t *testing.T) {
	d, err := DraftOf(t.Context(), mesh.New(blockOf(box{0, 0, 0, 40, 10, 8}).corners()), r3.Vector{Z: 2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "undercut", d.Pulled.UndercutMM2, 0, 1e-9)
	near(t, "least undercut", d.Least.UndercutMM2, 0, 1e-9)
	near(t, "walls", d.Steepness[0].AreaMM2, 2*(40+10)*8, 1e-9)
	near(t, "floors", d.Steepness[len(d.Steepness)-1].AreaMM2, 2*40*10, 1e-9)
	if len(d.Undercuts) != 0 {
		t.Errorf("undercuts %v", d.Undercuts)
	}
}

// A mushroom: a plate of 20 x 20 on a stem of 6 x 6 on a plate of 20 x 20. Pulled
// upright and parted at half height, the undersides of the upper plate and the
// top of the lower one hold it: 2 (400 - 36). Parted at an end, one of them comes
// free and the other one stays, with one end plate: it is less to part there.
// Pulled sideways nothing holds it.
func TestDraftOfAMushroom(t *testing.T) {
	c := blockOf(box{-10, -10, 0, 10, 10, 4}).plus(box{-3, -3, 4, 3, 3, 16}, box{-10, -10, 16, 10, 10, 20})
	d, err := DraftOf(t.Context(), mesh.New(c.corners()), r3.Vector{Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "upright", d.Pulled.UndercutMM2, 400-36, 1e-6) // parts within one plate
	near(t, "sideways", d.Least.UndercutMM2, 0, 1e-6)
	if math.Abs(d.Least.Pull[2]) > 1e-6 {
		t.Errorf("the least undercut is along %v", d.Least.Pull)
	}
	if len(d.Undercuts) != 1 || math.Abs(d.Undercuts[0].AreaMM2-(400-36)) > 1e-6 {
		t.Errorf("undercuts %+v", d.Undercuts)
	}
}

// The search finds the way out of a tilted body to a degree: a slab with a groove
// in each broad face comes free along its normal only.
func TestLeastUndercutOfATiltedBody(t *testing.T) {
	c := blockOf(box{-20, -15, -5, 20, 15, 5}).less(box{-12, -10, 2, 12, 10, 5}, box{-10, -12, -5, 10, 12, -2})
	for _, p := range poses() {
		m := p.posed(c.corners())
		d, err := DraftOf(t.Context(), m, p.turn(r3.Vector{X: 1}).Sub(p.turn(r3.Vector{})))
		if err != nil {
			t.Fatal(err)
		}
		up := p.turn(r3.Vector{Z: 1}).Sub(p.turn(r3.Vector{}))
		if off := math.Acos(min(1, math.Abs(vector.Of(d.Least.Pull).Dot(up)))) * 180 / math.Pi; off > 1 {
			t.Errorf("%s: the least undercut, %.2f mm2, is %.2f degrees off", p.name, d.Least.UndercutMM2, off)
		}
		if d.Pulled.UndercutMM2 < 50 {
			t.Errorf("%s: along its length it is undercut by %.1f mm2 only", p.name, d.Pulled.UndercutMM2)
		}
	}
}

// The example baits are drawn to leave a mold that parts at z = 0; the fin of the
// paddle tail is a solid of its own, whose buried lower side is no undercut.
func TestDraftOfTheExamples(t *testing.T) {
	for _, name := range []string{"paddletail", "ringgrub", "clawcraw"} {
		d, err := OpenDraft(t.Context(), "../../examples/"+name+"/bait.stl", cavity.Options{}, r3.Vector{Z: 1})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" undercut", d.Pulled.UndercutMM2, 0, 1)
		near(t, name+" parts at", d.Pulled.PartingMM, 0, 1e-6)
	}
}

func TestDraftRefuses(t *testing.T) {
	open := blockOf(box{0, 0, 0, 40, 10, 8}).corners()[3:]
	if _, err := DraftOf(t.Context(), mesh.New(open), r3.Vector{Z: 1}); !errors.Is(err, mesh.ErrNotClosed) {
		t.Errorf("open: %v", err)
	}
	if _, err := DraftOf(t.Context(), mesh.New(open), r3.Vector{}); !errors.Is(err, mesh.ErrDirection) {
		t.Errorf("no direction: %v", err)
	}
}

// The mushroom again: a plane through its stem holds both plates' inner sides, one over
// it all that faces up, one under it all that faces down.
func TestUndercutAtHeights(t *testing.T) {
	m := mesh.New(blockOf(box{-10, -10, 0, 10, 10, 4}).plus(box{-3, -3, 4, 3, 3, 16}, box{-10, -10, 16, 10, 10, 20}).corners())
	got, err := UndercutAt(t.Context(), m, r3.Vector{Z: 2}, -5, 10, 25)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "under it", got[0], 400+400-36, 1e-9)
	near(t, "through the stem", got[1], 2*(400-36), 1e-9)
	near(t, "over it", got[2], 400+400-36, 1e-9)
	if _, err := UndercutAt(t.Context(), m, r3.Vector{}, 0); !errors.Is(err, mesh.ErrDirection) {
		t.Errorf("no pull: %v", err)
	}
}
