package cool

import (
	"context"
	"math"
	"testing"

	"bellyline/mesh"
)

// Cases of the moulding formulas with k 0.16 W/mK, 1000 kg/m3, 1800 J/kgK, so
// 0.088889 mm2/s (Menges, Michaeli and Mohren, How to Make Injection Molds, ch. 8,
// from memory; the times are worked out from the formulas by hand).
func TestMouldingFormulas(t *testing.T) {
	const a = 0.16 / 1.8
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"plate 6 mm, mold 25", PlateS(6, a, 170, 25, 60), 68.239},
		{"plate 6 mm, mold 40", PlateS(6, a, 170, 40, 60), 86.722},
		{"plate 6 mm, 165 to 50", PlateS(6, a, 165, 25, 50), 80.606},
		{"rod 12 mm, mold 25", RodS(12, a, 170, 25, 60), 132.542},
		{"rod 12 mm, 165 to 50", RodS(12, a, 165, 25, 50), 153.647},
		{"rod 16 mm, mold 25", RodS(16, a, 170, 25, 60), 235.629},
		{"rod 16 mm, mold 40", RodS(16, a, 170, 40, 60), 291.706},
		{"rod 16 mm, 165 to 50", RodS(16, a, 165, 25, 50), 273.151},
		{"ball 12 mm, mold 25", BallS(12, a, 170, 25, 60), 86.770},
		{"ball 12 mm, mold 40", BallS(12, a, 170, 40, 60), 105.253},
		{"ball 12 mm, 165 to 50", BallS(12, a, 165, 25, 50), 99.137},
		{"plate 3 mm, 230 to 90 in 50, 0.1 mm2/s", PlateS(3, 0.1, 230, 50, 90), 15.9183},
	} {
		if math.Abs(c.got/c.want-1) > 1e-4 {
			t.Errorf("%s: %.4f s, want %.4f s", c.name, c.got, c.want)
		}
	}
}

// The grid gives the times of the formulas for bodies that they are made for.
func TestGridAgreesWithMouldingFormulas(t *testing.T) {
	t.Parallel()
	const a = 0.16 / 1.8
	for _, c := range []struct {
		name             string
		model            *mesh.Mesh
		melt, mold, open float64
		angle, grid      float64
		want             float64 // s
	}{
		{"plate 6 mm", box(6, 30, 30), 170, 25, 60, 0, 3 / 10.5, 68.239},
		{"rod 12 mm", rod(6, 60, 48), 170, 25, 60, 0.3, 6 / 12.5, 132.527}, // the whole series
		{"ball 12 mm", ball(6, 48), 165, 25, 50, 0.3, 6 / 16.5, 99.137},
	} {
		got, err := newBody(t, turned(c.model, c.angle), false).Cool(context.Background(),
			Ask{MeltC: c.melt, MoldC: c.mold, OpenC: c.open, DiffusivityMM2S: a, GridMM: c.grid})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(*got.TimeS/c.want-1) > 0.005 {
			t.Errorf("%s: %.3f s, want %.3f s", c.name, *got.TimeS, c.want)
		}
	}
}

// Textbook cases. Bodies that are heated are mirrored about a temperature: what is
// T above it is taken as T below.
func TestTextbookCases(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		model     *mesh.Mesh
		ask       Ask
		want      float64 // s, of the series
		book      float64 // s, as printed, rounded or read from a chart
		bookTrust float64
	}{
		// Cengel, Heat Transfer, the egg: 5 cm, k 0.627, a 0.151e-6, h 1200, from 5 to 70 C in
		// water of 95 C; 14.4 min (from memory). One term of the series: 862.6 s.
		{"egg", ball(25, 64), Ask{MeltC: 95, MoldC: 5, OpenC: 30, DiffusivityMM2S: 0.151, ContactMM: 627.0 / 1200}, 862.6, 14.4 * 60, 0.005},
		// Cengel, the shaft: 20 cm, k 14.9, a 3.95e-6, h 80, 600 C in 200 C air, 45 min: centre
		// 360 C from the chart (from memory), 364.30 by one term. Its length: at Fo 0.017 of a
		// slab as half as thick as it is long, held at its wall, 0.9999 are left in the middle.
		{"shaft", rod(100, 1600, 64), Ask{MeltC: 600, MoldC: 200, OpenC: 364.30, DiffusivityMM2S: 3.95, ContactMM: 14900.0 / 80, GridMM: 100 / 8.5}, 2700, 2700, 0.02},
		// Incropera, example 5.1, the thermocouple: 0.706 mm, k 20, 8500 kg/m3, 400 J/kgK, h 400,
		// from 25 to 199 C in 200 C: 5.2 s, lumped 5.1656 s (from memory).
		{"thermocouple", ball(0.353, 48), Ask{MeltC: 175, MoldC: 0, OpenC: 1, DiffusivityMM2S: 20 / 3.4, ContactMM: 20000.0 / 400, GridMM: 0.353 / 9.5}, 5.1656, 5.2, 0.01},
	} {
		if testing.Short() && c.name == "shaft" {
			continue
		}
		got, err := newBody(t, c.model, false).Cool(context.Background(), c.ask)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if math.Abs(*got.TimeS/c.want-1) > 0.005 {
			t.Errorf("%s: %.4f s, the series %.4f s", c.name, *got.TimeS, c.want)
		}
		if math.Abs(*got.TimeS/c.book-1) > c.bookTrust {
			t.Errorf("%s: %.4f s, the book %.4f s", c.name, *got.TimeS, c.book)
		}
	}
}

// Cengel, the brass plate: 4 cm, k 110, a 33.9e-6, h 120, from 20 C in an oven of 500 C, 7
// min: its surface at 282 C from the chart, 279 C lumped (from memory), 279.58 C by the
// series. The grid has no wide plate but a block of that thickness, whose sides are
// heated too: in its middle it has what the product of three series says.
func TestBrassPlate(t *testing.T) {
	t.Parallel()
	const biot, fo = 120 * 0.02 / 110, 33.9e-6 * 7 * 60 / (0.02 * 0.02)
	centre, _ := slabShape.at(biot, fo)
	surface := 500 - 480*centre*math.Cos(slabShape.roots(biot, 1)[0])
	if math.Abs(surface-279.58) > 0.01 || math.Abs(surface-282) > 3 || math.Abs(surface-279) > 3 {
		t.Errorf("surface at %.2f C, want 279.58 C", surface)
	}
	c := modelOf{"plate", box(2, 4, 5), product(slabShape.at, wide(slabShape, 2), wide(slabShape, 2.5))}
	compare(t, c, c.cells(t, 0.4, 8.5), biot, []float64{fo / 4, fo}, 0.005)
}
