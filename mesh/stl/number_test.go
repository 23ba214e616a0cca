package stl

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"testing"
)

// checkDecimal compares decimal with strconv, which is the reference here.
func checkDecimal(t *testing.T, s string) {
	t.Helper()
	want, err := strconv.ParseFloat(s, 32)
	if err != nil && !math.IsInf(want, 0) {
		t.Fatalf("the test's own number %q: %v", s, err)
	}
	for _, behind := range []string{"", " ", "\n      vertex 1.5 -2.5 3.5"} {
		got, n := decimal([]byte(s + behind))
		if n != len(s) || math.Float32bits(got) != math.Float32bits(float32(want)) {
			t.Errorf("decimal(%q) = %b of %d bytes, want %b of %d", s+behind, got, n, float32(want), len(s))
		}
	}
}

func TestDecimalAgainstStrconv(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	formats := []byte{'e', 'f', 'g', 'E'}
	for range 30_000 {
		var bits uint32
		for {
			bits = random.Uint32()
			if bits&0x7f800000 != 0x7f800000 {
				break
			}
		}
		x := float64(math.Float32frombits(bits))
		checkDecimal(t, strconv.FormatFloat(x, formats[random.IntN(4)], random.IntN(20), 64))
		mm := (random.Float64() - 0.5) * math.Pow(10, float64(random.IntN(9)-3))
		checkDecimal(t, strconv.FormatFloat(mm, formats[random.IntN(4)], -1, 64))
		checkDecimal(t, fmt.Sprintf("%+d.%de%d", random.IntN(1000), random.Uint64(), random.IntN(120)-60))
	}
}

func TestEightDigits(t *testing.T) {
	for s, want := range map[string]struct {
		value uint64
		n     int
	}{
		"12345678": {12345678, 8}, "123456789": {12345678, 8}, "1234.678": {1234, 4}, "x2345678": {0, 0}, "1/345678": {1, 1},
		"12:45678": {12, 2}, "123\xff5678": {123, 3}, "00000000": {0, 8}, "99999999": {99999999, 8}, "0000001\x00": {1, 7}, "9\xb05\x807890": {9, 1}, "       1": {0, 0},
	} {
		if value, n := eightDigits([]byte(s)); value != want.value || n != want.n {
			t.Errorf("eightDigits(%q) = %d of %d, want %d of %d", s, value, n, want.value, want.n)
		}
	}
}

// Halfway between two float32 numbers, and a last digit to either side, is where
// rounding first to float64 and then to float32 goes wrong.
func TestDecimalHalfway(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 10_000 {
		bits := random.Uint32N(0x7f7fffff)
		a, b := float64(math.Float32frombits(bits)), float64(math.Float32frombits(bits+1))
		half := new(big.Float).SetPrec(200).SetFloat64(a)
		half.Add(half, new(big.Float).SetFloat64(b)).Quo(half, big.NewFloat(2))
		exact := half.Text('e', 120)
		checkDecimal(t, exact)
		checkDecimal(t, half.Text('e', 16))
		checkDecimal(t, half.Text('e', 18))
		checkDecimal(t, half.Text('g', 9))
		mantissa, exponent := exact[:len(exact)-4], exact[len(exact)-4:]
		checkDecimal(t, mantissa+"1"+exponent)
	}
	// 2^24+1 is a tie, so it goes to the even 2^24; a hair more goes up, though
	// the nearest float64 is the tie itself.
	for s, want := range map[string]float32{
		"16777217": 1 << 24, "16777217.0000000001": 1<<24 + 2, "16777216.9999999999": 1 << 24,
	} {
		if got, _ := decimal([]byte(s)); got != want {
			t.Errorf("decimal(%q) = %v, want %v", s, got, want)
		}
	}
}

func TestDecimalEdges(t *testing.T) {
	for _, s := range []string{
		"0", "-0", "+0", "00012", ".5", "5.", "-.5e1", "1e0", "1E+05", "1e-05", "0e999999999999",
		"1e-999999999999", "1e38", "3.4028235e38", "3.4028236e38", "1e39", "-1e99999", "1.17549435e-38", "1.17549428e-38", "1e-45",
		"7e-46", "1e-46", "123456789012345678901234567890", "0.000000000000000000000000000000000000000000001234",
		"9999999999999999999", "18446744073709551616", "99999999999999999999",
	} {
		checkDecimal(t, s)
	}
}

func TestDecimalTakesWhatIsANumber(t *testing.T) {
	for s, want := range map[string]int{
		"": 0, "-": 0, ".": 0, "+.": 0, "e5": 0, "abc": 0, "nan": 0, "inf": 0, "-inf": 0,
		"1e": 1, "1e+": 1, "1ex": 1, "1.2.3": 3, "1,5": 1, "0x1p3": 1, "1_0": 1, "--1": 0, "1.#QNAN": 2, "12mm": 2,
	} {
		for _, behind := range []string{"", " and thirty more bytes of text"} {
			if _, n := decimal([]byte(s + behind)); n != want {
				t.Errorf("decimal(%q) takes %d bytes, want %d", s+behind, n, want)
			}
		}
	}
}
