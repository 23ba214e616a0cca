package laminate

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// openBody writes corners under a name of the test's own folder and opens them.
func openBody(t testing.TB, name string, back r3.Vector, corners []r3.Vector) *cavity.Cavity {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := stl.WriteFile(path, "body", mesh.New(corners)); err != nil {
		t.Fatal(err)
	}
	c, err := cavity.Open(t.Context(), path, cavity.Options{}, back, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// ellipsoid draws an ellipsoid about the origin, half axes in mm, n facets round
// and n/2 bands from pole to pole along x.
func ellipsoid(a, b, c float64, n int) []r3.Vector {
	at := func(band, i int) r3.Vector {
		sinU, cosU := math.Sincos(math.Pi * float64(band) / float64(n/2))
		sinW, cosW := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		if band == 0 || band == n/2 {
			sinU = 0
		}
		return r3.Vector{X: a * cosU, Y: b * sinU * cosW, Z: c * sinU * sinW}
	}
	return banded(at, n, n/2)
}

// lyingCylinder draws a cylinder along x with n facets round, its lowest point at z = 0.
func lyingCylinder(radius, length float64, n int) []r3.Vector {
	at := func(band, i int) r3.Vector {
		sin, cos := math.Sincos(2*math.Pi*float64(i%n)/float64(n) - math.Pi/2)
		x, r := length, radius
		if band >= 2 {
			x = 0
		}
		if band == 0 || band == 3 {
			r = 0
		}
		return r3.Vector{X: x, Y: r * cos, Z: radius + r*sin}
	}
	return banded(at, n, 3)
}

// banded joins rings of points about x, from high x to low; the first and the
// last ring are single points.
func banded(at func(band, i int) r3.Vector, n, bands int) []r3.Vector {
	var corners []r3.Vector
	for band := range bands {
		for i := range n {
			if band > 0 {
				corners = append(corners, at(band, i), at(band+1, i), at(band, i+1))
			}
			if band < bands-1 {
				corners = append(corners, at(band, i+1), at(band+1, i), at(band+1, i+1))
			}
		}
	}
	return corners
}

// facetLoss is the share of a circle's area that n chords cut off.
func facetLoss(n int) float64 {
	a := 2 * math.Pi / float64(n)
	return 1 - math.Sin(a)/a
}

func TestTestBodiesAreWhatTheySay(t *testing.T) {
	const n = 96
	// A solid turned in n facets has the circle's loss; an ellipsoid also that of
	// its bands, under twice the circle's.
	cylinder := openBody(t, "cylinder.stl", r3.Vector{Z: 1}, lyingCylinder(10, 50, n)).FillMM3
	if loss := 1 - cylinder/(math.Pi*100*50); math.Abs(loss-facetLoss(n)) > 1e-6 {
		t.Errorf("cylinder lost %g, want %g", loss, facetLoss(n))
	}
	egg := openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(40, 9, 6, n)).FillMM3
	if loss := 1 - egg/(4*math.Pi/3*40*9*6); loss < facetLoss(n) || loss > 3*facetLoss(n) {
		t.Errorf("ellipsoid lost %g, chords alone %g", loss, facetLoss(n))
	}
}
