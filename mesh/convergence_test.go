package mesh

import (
	"math"
	"testing"

	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// smooth is a curved body with closed forms of what it encloses. Formulas:
// Zwillinger, CRC Standard Mathematical Tables, chapter on solids; Weisstein,
// MathWorld, SphericalCap and CylindricalWedge (all from memory); elementary
// integrals where nothing is said.
type smooth struct {
	draw     func(n int) []r3.Vector
	volume   float64
	area     float64    // 0: no closed form is used
	centroid r3.Vector  // only compared where it is not 0 by symmetry as well
	inertia  [3]float64 // xx, yy, zz about the centroid per mass; 0: not compared
}

func smoothBodies() map[string]smooth {
	const pi = math.Pi
	// A capsule of radius 5 and straight length 100: its middle and its two ends.
	middle, ends := pi*25*100, 4*pi*125/3.0
	capsuleAxis := middle*25/2 + ends*2*25/5
	capsuleAcross := middle*(100*100/12.0+25/4.0) + ends*(2*25/5.0+100*100/4.0+3*100*5/8.0)
	return map[string]smooth{
		"sphere": {
			draw:   func(n int) []r3.Vector { return solids.Sphere(5, n) },
			volume: 4 * pi * 125 / 3, area: 4 * pi * 25,
			inertia: [3]float64{10, 10, 10},
		},
		"ellipsoid": {
			draw:   func(n int) []r3.Vector { return solids.Ellipsoid(6, 4, 10, n) },
			volume: 1005.309649, // 4 pi abc/3
			// (b^2+c^2)/5 and so on.
			inertia: [3]float64{116.0 / 5, 136.0 / 5, 52.0 / 5},
		},
		"ellipsoid cap": {
			draw:   func(n int) []r3.Vector { return solids.EllipsoidCap(6, 4, 10, 4, n) },
			volume: 104.5522035, // pi a b h^2 (3c-h) / (3c^2)
			// A spherical cap's centroid is 3(2R-h)^2/(4(3R-h)) from the centre.
			centroid: r3.Vector{Z: 3.0 * 16 * 16 / (4 * 26)},
		},
		"capsule": {
			draw:   func(n int) []r3.Vector { return solids.Capsule(5, 100, n) },
			volume: 8377.580410, area: 3455.751919, // pi r^2 (L+4r/3), 2 pi r (L+2r)
			inertia: [3]float64{
				capsuleAcross / (middle + ends), capsuleAcross / (middle + ends), capsuleAxis / (middle + ends)},
		},
		"torus": {
			draw:   func(n int) []r3.Vector { return solids.Torus(10, 3, n, n) },
			volume: 1776.528792, area: 1184.352528, // 2 pi^2 R r^2, 4 pi^2 R r
			inertia: [3]float64{55.625, 55.625, 106.75}, // R^2/2+5r^2/8, R^2+3r^2/4
		},
		"frustum": {
			draw:   func(n int) []r3.Vector { return solids.Frustum(5, 3, 10, n) },
			volume: 513.1268001,
			area:   256.3046759 + pi*(25+9), // side and both ends
			// h(R^2+2Rr+3r^2)/(4(R^2+Rr+r^2)) from the large end; 0.3(R^5-r^5)/(R^3-r^3)
			centroid: r3.Vector{Z: 10 * (25 + 30 + 27) / (4 * 49.0)},
			inertia:  [3]float64{0, 0, 8.822448980},
		},
		"truncated cylinder": {
			draw:   func(n int) []r3.Vector { return solids.TruncatedCylinder(5, 10, 16, n) },
			volume: 1021.017612, // pi r^2 (h1+h2)/2
		},
		"hoof": {
			draw:   func(n int) []r3.Vector { return solids.Hoof(5, 8, n) },
			volume: 133.333333333333,
			// Side 80, half a disc, half an ellipse of semi-axes 5 and hypot(5, 8).
			area:     80 + pi*25/2 + pi*5*math.Hypot(5, 8)/2,
			centroid: r3.Vector{X: 3 * pi * 5 / 16, Z: 3 * pi * 8 / 32},
		},
		"hemisphere": {
			draw:   func(n int) []r3.Vector { return solids.EllipsoidCap(5, 5, 5, 5, n) },
			volume: 2 * pi * 125 / 3, area: 3 * pi * 25,
			centroid: r3.Vector{Z: 15.0 / 8},
			inertia:  [3]float64{83 * 25 / 320.0, 83 * 25 / 320.0, 10},
		},
		"half cylinder": {
			draw:   func(n int) []r3.Vector { return solids.HalfCylinder(5, 10, n) },
			volume: pi * 125, area: pi*25 + pi*50 + 100,
			centroid: r3.Vector{Y: 20 / (3 * pi), Z: 5},
			inertia:  [3]float64{0, 0, 7.996836283}, // R^2 (1/2 - 16/(9 pi^2))
		},
	}
}

// Bodies inscribed in a smooth one fall short of it by a share that goes with the
// square of the facet size, in volume, area, centroid and inertia alike.
func TestErrorFallsAsTheSquareOfTheFacetSize(t *testing.T) {
	const coarse, fine = 48, 96
	for name, body := range smoothBodies() {
		measure := func(n int) Moments { return New(body.draw(n)).Moments() }
		c, f := measure(coarse), measure(fine)
		order := func(what string, coarse, fine, want float64) {
			t.Helper()
			ec, ef := math.Abs(coarse-want), math.Abs(fine-want)
			if p := math.Log2(ec / ef); !(p > 1.9 && p < 2.1) || ef > 0.01*math.Abs(want) {
				t.Errorf("%s: %s %.9g, then %.9g, towards %.9g: order %.3f", name, what, coarse, fine, want, p)
			}
		}
		order("volume", c.VolumeMM3, f.VolumeMM3, body.volume)
		if body.area != 0 {
			order("area", c.AreaMM2, f.AreaMM2, body.area)
		}
		for i, axis := range [3]struct {
			name               string
			coarse, fine, want float64
		}{
			{"x", c.Centroid.X, f.Centroid.X, body.centroid.X},
			{"y", c.Centroid.Y, f.Centroid.Y, body.centroid.Y},
			{"z", c.Centroid.Z, f.Centroid.Z, body.centroid.Z},
		} {
			if body.inertia[i] != 0 {
				order("inertia about "+axis.name, c.Inertia[i][i]/c.VolumeMM3, f.Inertia[i][i]/f.VolumeMM3, body.inertia[i])
			}
			if axis.want == 0 {
				continue
			}
			// Levels of a cone, and of half a prism, are the same share of a circle
			// everywhere, so facets do not move its centroid at all.
			if exact := math.Abs(axis.coarse-axis.want) < 1e-12; !exact {
				order("centroid "+axis.name, axis.coarse, axis.fine, axis.want)
			}
		}
	}
}

// The faceted volume itself is known for every lathed body: turned profile times
// the share of an inscribed n-gon in its circle.
func TestFacetedVolumeOfLathes(t *testing.T) {
	for name, c := range map[string]struct {
		corners []r3.Vector
		want    float64
	}{
		"sphere":  {solids.Sphere(5, 64), solids.LatheShare(64) * solids.ProfileVolume(solids.SphereProfile(5, 32))},
		"capsule": {solids.Capsule(5, 100, 64), solids.LatheShare(64) * solids.ProfileVolume(solids.CapsuleProfile(5, 100, 16))},
		// Pappus: the 12-gon inscribed in a circle of radius 3 has an area of 27.
		"torus":   {solids.Torus(10, 3, 64, 12), solids.LatheShare(64) * 20 * math.Pi * 27},
		"frustum": {solids.Frustum(5, 3, 10, 64), solids.LatheShare(64) * math.Pi * 490 / 3},
	} {
		got := New(c.corners).Moments().VolumeMM3
		if math.Abs(got-c.want) > 1e-13*c.want {
			t.Errorf("%s: %.15g, want %.15g", name, got, c.want)
		}
	}
}
