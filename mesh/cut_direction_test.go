package mesh

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

func TestParseDirection(t *testing.T) {
	third := 1 / math.Sqrt(3)
	for _, c := range []struct {
		text string
		want r3.Vector
	}{
		{"+x", r3.Vector{X: 1}}, {"-x", r3.Vector{X: -1}}, {"x", r3.Vector{X: 1}},
		{"+y", r3.Vector{Y: 1}}, {"-Y", r3.Vector{Y: -1}},
		{" +z ", r3.Vector{Z: 1}}, {"-z", r3.Vector{Z: -1}},
		{"0,0,-7", r3.Vector{Z: -1}}, {"1e-300,0,0", r3.Vector{X: 1}}, {"0, 1e300, 0", r3.Vector{Y: 1}},
		{"3,0,4", r3.Vector{X: 0.6, Z: 0.8}},
		{"1,1,1", r3.Vector{X: third, Y: third, Z: third}},
		{"1e-200,1e-200,1e-200", r3.Vector{X: third, Y: third, Z: third}},
	} {
		got, err := ParseDirection(c.text)
		// Two roundings of a number below 1: no more than two units of 2^-53.
		if err != nil || got.Sub(c.want).Norm() > 0x1p-51 {
			t.Errorf("ParseDirection(%q) = %v, %v, want %v", c.text, got, err, c.want)
		}
		if c.want.Norm2() == 1 && (c.want.X == 0 || c.want.Y == 0) && c.want.X+c.want.Y+c.want.Z == math.Trunc(c.want.X+c.want.Y+c.want.Z) && got != c.want {
			t.Errorf("ParseDirection(%q) = %v is not exact", c.text, got)
		}
	}
}

func TestParseDirectionRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":        `not a direction: ""; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`,
		"up":      `not a direction: "up"; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`,
		"+-x":     `not a direction: "+-x"; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`,
		"1,2":     `not a direction: "1,2"; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`,
		"1,2,3,4": `not a direction: "1,2,3,4"; write +x, -x, +y, -y, +z, -z or three numbers x,y,z`,
		"1,b,3":   `not a direction: "b" in "1,b,3" is not a finite number`,
		"1,,3":    `not a direction: "" in "1,,3" is not a finite number`,
		"nan,0,1": `not a direction: "nan" in "nan,0,1" is not a finite number`,
		"inf,0,1": `not a direction: "inf" in "inf,0,1" is not a finite number`,
		"0,0,-0":  `not a direction: "0,0,-0" has no length`,
	} {
		_, err := ParseDirection(text)
		if err == nil || err.Error() != want || !errors.Is(err, ErrDirection) {
			t.Errorf("ParseDirection(%q): %v\nwant %s", text, err, want)
		}
	}
}
