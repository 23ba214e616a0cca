package show

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bellyline/cmd/bellyline/plain"
)

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// words turns a JSON word into people's: "boundary_edge" into "boundary edge".
func words(key string) string { return strings.ReplaceAll(key, "_", " ") }

// model names the model that was read; "-" is no name.
func model(file string) string {
	if file == "-" {
		return "standard input"
	}
	return plain.Line(file)
}

// small prints a bound or an estimate to two digits, without powers of ten.
func small(x float64) string {
	switch {
	case x == 0:
		return "0"
	case math.Abs(x) < 0.001:
		return "under 0.001"
	}
	two, err := strconv.ParseFloat(fmt.Sprintf("%.1e", x), 64)
	if err != nil {
		return fmt.Sprint(x) // endless: say so
	}
	return strconv.FormatFloat(two, 'f', -1, 64)
}
