package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// numberForm is the number that a measure begins with: a mixed number or a
// fraction of whole numbers, or a decimal. What follows it is the unit.
var numberForm = regexp.MustCompile(
	`^(?:(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)|((?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:e-?[0-9]+)?)) ?(.*)$`)

// plainSigns turns the fraction signs and dashes of phones and word processors
// into what a keyboard has: "1½" is "1 1/2". The mark of a fraction sign that
// was set in one piece is its own, so "1½" never turns into "11/2".
var plainSigns = strings.NewReplacer(
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	"⁄", "/", "−", "-", "–", "-")

// splitNumber parts "1 1/2 cups" into 1.5 and "cups". The word comes in lower
// case, without full stops ("fl. oz."), with single spaces.
func splitNumber(s string) (x float64, word string, err error) {
	s = strings.Join(strings.Fields(strings.ToLower(plainSigns.Replace(s))), " ")
	m := numberForm.FindStringSubmatch(s)
	if m == nil {
		if strings.HasPrefix(s, "-") {
			return 0, "", ErrNegative
		}
		return 0, "", ErrNoNumber
	}
	switch {
	case strings.HasPrefix(m[5], ","):
		return 0, "", fmt.Errorf("%w (decimals take a point, thousands take nothing)", ErrBadNumber)
	case m[5] != "" && strings.ContainsRune("0123456789/-.", rune(m[5][0])):
		return 0, "", ErrBadNumber
	}
	word = strings.ReplaceAll(m[5], ".", "")
	if m[3] == "" {
		x, err = decimal(m[4])
	} else {
		x, err = mixed(m[1], m[2], m[3])
	}
	return x, word, err
}

// mixed reads a whole number, which may be missing, and a fraction.
func mixed(whole, top, bottom string) (float64, error) {
	w := 0.0
	if whole != "" {
		var err error
		if w, err = decimal(whole); err != nil {
			return 0, err
		}
	}
	a, err := decimal(top)
	if err != nil {
		return 0, err
	}
	b, err := decimal(bottom)
	if err != nil {
		return 0, err
	}
	if b == 0 {
		return 0, fmt.Errorf("%w (%s/%s divides by zero)", ErrBadNumber, top, bottom)
	}
	if whole != "" && a >= b {
		return 0, fmt.Errorf("%w (%s/%s after a whole number is not less than one)", ErrBadNumber, top, bottom)
	}
	return w + a/b, nil
}

// decimal reads a number that numberForm has passed; only its size can be wrong.
func decimal(s string) (float64, error) {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || x > largest || math.IsNaN(x) {
		return 0, ErrTooLarge
	}
	return x, nil
}
