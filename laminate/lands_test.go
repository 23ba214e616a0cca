package laminate

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/laminate/stream"
)

// pushedEgg is a job whose ganged barrels give the back 0.3 of every stroke.
func pushedEgg(t *testing.T) Job {
	t.Helper()
	j := simpleJob(openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(30, 12, 8, 48)))
	j.Streams = true
	j.Injector = Injector{Drive: Ganged, Barrels: []Barrel{
		{Name: "left", BoreMM: 30 * math.Sqrt(.7), CapacityML: 500}, {Name: "right", BoreMM: 30 * math.Sqrt(.3), CapacityML: 500},
	}}
	return j
}

// What passes the gate stays: with a feed of 0.3 at equal viscosities pour and
// stream agree on 0.3 of the cavity, though the developed sections hold more.
func TestPourAndStreamAgreeOnVolumes(t *testing.T) {
	j := pushedEgg(t)
	p := pourIt(t, j)
	r, err := stream.Run(t.Context(), j.Cavity, stream.Conditions{BackFeed: .3, Stations: landsStations})
	if err != nil {
		t.Fatal(err)
	}
	back, whole := p.Shot.Colours[1].BaitML, p.Bait.VolumeML
	equal(t, "back's share, poured", back/whole, .3)
	equal(t, "back's share, streamed", r.BackShare, .3)
	equal(t, "back's share on the card", p.Line.Lands.BackShare, .3)
	equal(t, "drawn line", r.DrawnMM, *p.Line.DeliveredMM)
	equal(t, "where it lands", p.Line.Lands.MeanMM, *r.MeanMM)
	for _, s := range r.Stations {
		if s.BackAreaShare < .32 {
			t.Errorf("at %g mm the section holds %g of back", s.XMM, s.BackAreaShare)
		}
	}
	if p.Line.Lands.SkinOver != "back" || p.Line.Lands.SkinMM <= 0 {
		t.Errorf("the larger colour lays a skin over the smaller: %+v", p.Line.Lands)
	}
}

// The colder colour takes more of the section, and no more of the volume.
func TestColderBackMovesTheLine(t *testing.T) {
	warm, cold := pushedEgg(t), pushedEgg(t)
	cold.Colours[1].Mix.Plastisol.Pour = 155
	a, b := pourIt(t, warm).Line, pourIt(t, cold).Line
	if !(b.Lands.MeanMM < a.Lands.MeanMM-.05) {
		t.Errorf("lands at %g mm, with a colder back at %g mm", a.Lands.MeanMM, b.Lands.MeanMM)
	}
	// Arrhenius' law at 40 kJ/mol, 155 C over 170 C, worked out apart from this program.
	within(t, "ratio of viscosities", b.Lands.Ratio, 1.46278, 6e-6)
	equal(t, "back's share", b.Lands.BackShare, .3)
	equal(t, "delivered height", *b.DeliveredMM, *a.DeliveredMM)
}

// Of two materials nobody knows which is thicker, and that is said.
func TestTwoMaterialsAreSaid(t *testing.T) {
	j := pushedEgg(t)
	j.Colours[0].Mix.Plastisol.Name, j.Colours[1].Mix.Plastisol.Name = "soft", "tough"
	j.Colours[1].Mix.Plastisol.Pour = 180
	p := pourIt(t, j)
	if p.Line.Lands.Ratio != 1 || !strings.Contains(strings.Join(p.Warnings, "\n"), "as if soft and tough were equally thick") {
		t.Errorf("ratio %g, warnings %q", p.Line.Lands.Ratio, p.Warnings)
	}
}

// A nose that does not fit the back leaves the line as volumes put it.
func TestNoseAlongTheBackIsSaid(t *testing.T) {
	j := pushedEgg(t)
	var err error
	if j.Cavity, err = cavity.OfMesh(t.Context(), "egg", j.Cavity.Mesh, r3.Vector{Z: 1}, r3.Vector{Z: 1}); err != nil {
		t.Fatal(err)
	}
	p := pourIt(t, j)
	if p.Line.Lands != nil || p.Line.DeliveredMM == nil || !strings.Contains(strings.Join(p.Warnings, "\n"), "not worked out") {
		t.Errorf("%+v, warnings %q", p.Line.Lands, p.Warnings)
	}
}
