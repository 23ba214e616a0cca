package stl

import (
	"encoding/binary"
	"math"
	"math/bits"
	"strconv"
)

// powersOfTen holds 10^0 to 10^60, each the float64 nearest to it.
// 10^22 is the last that is exact.
var powersOfTen = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
	1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22, 1e23, 1e24, 1e25, 1e26, 1e27, 1e28, 1e29, 1e30,
	1e31, 1e32, 1e33, 1e34, 1e35, 1e36, 1e37, 1e38, 1e39, 1e40, 1e41, 1e42, 1e43, 1e44, 1e45,
	1e46, 1e47, 1e48, 1e49, 1e50, 1e51, 1e52, 1e53, 1e54, 1e55, 1e56, 1e57, 1e58, 1e59, 1e60,
}

// partsOfTen holds 10^0 to 10^-60, each the float64 nearest to it.
var partsOfTen = [...]float64{
	1e0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11, 1e-12, 1e-13, 1e-14, 1e-15,
	1e-16, 1e-17, 1e-18, 1e-19, 1e-20, 1e-21, 1e-22, 1e-23, 1e-24, 1e-25, 1e-26, 1e-27, 1e-28, 1e-29,
	1e-30, 1e-31, 1e-32, 1e-33, 1e-34, 1e-35, 1e-36, 1e-37, 1e-38, 1e-39, 1e-40, 1e-41, 1e-42, 1e-43,
	1e-44, 1e-45, 1e-46, 1e-47, 1e-48, 1e-49, 1e-50, 1e-51, 1e-52, 1e-53, 1e-54, 1e-55, 1e-56, 1e-57,
	1e-58, 1e-59, 1e-60,
}

const (
	mostDigits    = 19     // 10^19 - 1 fits in a uint64
	mostExponent  = 100000 // more is zero or infinite whatever the digits
	float32Normal = 0x1p-126
)

// decimal reads the decimal number at the start of s: a sign, digits with at
// most one point, an exponent. It returns the float32 nearest to the number
// (ties to even, infinite when too large) and the bytes that it took, 0 when no
// number is there. What follows the number is the caller's to judge.
func decimal(s []byte) (x float32, n int) {
	if x, n, ok := shortDecimal(s); ok {
		return x, n
	}
	return anyDecimal(s)
}

// shortDecimal is decimal for numbers of usual length with some bytes behind
// them. It is not ok for others, and where nothing is a number.
func shortDecimal(s []byte) (x float32, n int, ok bool) {
	const longest = 1 + 8 + 1 + 8 + 8 // sign, digits, point, digits, room to look ahead
	if len(s) < longest {
		return 0, 0, false
	}
	i := 0
	negative := s[0] == '-'
	if negative || s[0] == '+' {
		i = 1
	}
	digits, count := eightDigits(s[i:])
	i += count
	exponent := 0
	if s[i] == '.' {
		fraction, more := eightDigits(s[i+1:])
		digits = digits*wholePowers[more] + fraction
		exponent = -more
		count += more
		i += 1 + more
	}
	// Eight digits may be the first of more.
	if count == 0 || s[i]-'0' < 10 {
		return 0, 0, false
	}
	if s[i]|0x20 == 'e' {
		power, taken := shortExponent(s[i+1:])
		if taken == 0 {
			return 0, 0, false
		}
		i += 1 + taken
		exponent += power
	}
	x, ok = scale(digits, exponent)
	if negative {
		x = -x
	}
	return x, i, ok
}

// shortExponent is wholeExponent for a sign and two digits, as most programs write
// it. It takes nothing where anything else is.
func shortExponent(s []byte) (power, n int) {
	tens, ones := int(s[1])-'0', int(s[2])-'0'
	if uint(tens) > 9 || uint(ones) > 9 || s[3]-'0' < 10 {
		return 0, 0
	}
	power = 10*tens + ones
	switch s[0] {
	case '+':
		return power, 3
	case '-':
		return -power, 3
	}
	return 0, 0
}

// wholePowers holds 10^0 to 10^8.
var wholePowers = [...]uint64{1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000}

// eightDigits reads the digits, at most eight, at the start of s, which must have
// eight bytes, and returns their number and how many they are. It takes them all
// at once, as the bytes of one number (after Lemire, "Number parsing at a
// gigabyte per second", 2021).
func eightDigits(s []byte) (value uint64, n int) {
	const each = 0x01_01_01_01_01_01_01_01
	v := binary.LittleEndian.Uint64(s) ^ '0'*each
	// A byte is above 9 where adding 0x76 reaches 0x80. Carries go to later bytes.
	n = bits.TrailingZeros64((v+0x76*each|v)&(0x80*each)) / 8
	v <<= 64 - 8*n // the last digit into the last byte, zeros before the first
	v = v*10 + v>>8
	const pairs = 0x00_00_00_FF_00_00_00_FF
	return (v&pairs*(1_000_000<<32|100) + v>>16&pairs*(10_000<<32|1)) >> 32, n
}

// anyDecimal is decimal for every case.
func anyDecimal(s []byte) (x float32, n int) {
	i := 0
	negative := false
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		negative = s[i] == '-'
		i++
	}
	var digits uint64
	first := i
	for i < len(s) && s[i]-'0' < 10 {
		digits = digits*10 + uint64(s[i]-'0')
		i++
	}
	count := i - first
	exponent := 0
	if i < len(s) && s[i] == '.' {
		i++
		point := i
		for i < len(s) && s[i]-'0' < 10 {
			digits = digits*10 + uint64(s[i]-'0')
			i++
		}
		exponent = point - i
		count += i - point
	}
	if count == 0 {
		return 0, 0
	}
	if i < len(s) && s[i]|0x20 == 'e' {
		power, taken := wholeExponent(s[i+1:])
		if taken > 0 {
			i += 1 + taken
			exponent += power
		}
	}
	if count <= mostDigits {
		if x, ok := scale(digits, exponent); ok {
			if negative {
				x = -x
			}
			return x, i
		}
	}
	// Far from every fast case: the exact way. The syntax is already right, so
	// the only error left is a number too large, which is infinite.
	exact, _ := strconv.ParseFloat(string(s[:i]), 32)
	return float32(exact), i
}

// wholeExponent reads the signed whole number after the e of a decimal number
// and returns it, kept within mostExponent, and the bytes that it took.
func wholeExponent(s []byte) (power, n int) {
	i := 0
	negative := false
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		negative = s[i] == '-'
		i++
	}
	first := i
	for i < len(s) && s[i]-'0' < 10 {
		power = min(power*10+int(s[i]-'0'), mostExponent)
		i++
	}
	if i == first {
		return 0, 0
	}
	if negative {
		power = -power
	}
	return power, i
}

// scale returns digits times 10^exponent rounded to float32, or not ok when it
// cannot be sure.
//
// Three roundings to float64 can happen on the way: of the digits, of the power
// and of the product. Each is at most half a step, so the float64
// is within two of its own steps of the true number. Rounding it again to
// float32 errs only where a float32 tie (low 29 bits of the fraction 1 and 28
// zeros) lies between the two or on one; four steps from a tie it cannot.
// Below the normal float32 numbers the ties lie elsewhere, and at the top the
// result is infinite: neither is answered here.
func scale(digits uint64, exponent int) (x float32, ok bool) {
	if digits == 0 {
		return 0, true
	}
	d := float64(digits)
	switch {
	case exponent == 0:
	case exponent < 0 && exponent > -len(partsOfTen):
		d *= partsOfTen[-exponent]
	case exponent > 0 && exponent < len(powersOfTen):
		d *= powersOfTen[exponent]
	default:
		return 0, false
	}
	const (
		low = 1<<29 - 1
		tie = 1 << 28
	)
	if d < float32Normal || d > math.MaxFloat32/2 || math.Float64bits(d)&low-(tie-4) <= 8 {
		return 0, false
	}
	return float32(d), true
}
