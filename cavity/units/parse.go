package units

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// The things that can be wrong with a written measure.
var (
	ErrNoNumber    = errors.New("no number")
	ErrBadNumber   = errors.New("not a number that can be read")
	ErrNoUnit      = errors.New("no unit")
	ErrUnknownUnit = errors.New("unknown unit")
	ErrNegative    = errors.New("must not be negative")
	ErrTooLarge    = errors.New("too large to be meant")
)

// largest is past anything at a bench (1e9 mL is a thousand tonnes) and keeps
// nonsense such as 1e308 from turning into an infinity later.
const largest = 1e9

// unknownUnit is a word that no list of units has.
type unknownUnit struct{ word string }

func (e unknownUnit) Error() string { return fmt.Sprintf("%v %q", ErrUnknownUnit, e.word) }
func (e unknownUnit) Unwrap() error { return ErrUnknownUnit }

// parseMeasure reads a number and a unit, or several joined by "+". A part
// without a unit takes the next part's: "1/4 + 1/8 tsp".
func parseMeasure(s string, words map[string]float64) (float64, error) {
	parts := strings.Split(s, "+")
	total, scale := 0.0, 0.0
	for _, part := range slices.Backward(parts) {
		x, word, err := splitNumber(part)
		if err != nil {
			return 0, err
		}
		if word != "" {
			known, ok := words[word]
			if !ok {
				return 0, unknownUnit{word}
			}
			scale = known
		}
		if scale == 0 {
			return 0, ErrNoUnit
		}
		total += x * scale
	}
	if total > largest {
		return 0, ErrTooLarge
	}
	return total, nil
}

// measureError words the error for people: what kind of measure it was, what is
// wrong with it, which units there are if it was the unit, and examples.
func measureError(kind, s string, err error, known, like string) error {
	if u, ok := errors.AsType[unknownUnit](err); ok {
		err = fmt.Errorf("%w (known: %s)%s", err, known, otherKind(u.word))
	}
	return fmt.Errorf("%s %q: %w; write it like %s", kind, s, err, like)
}

// otherKind explains the mistakes that the double meaning of ounce invites.
func otherKind(word string) string {
	switch {
	case word == "oz" || word == "ounce" || word == "ounces":
		return ", oz is a weight here, a volume is fl oz"
	case massWords[word] > 0:
		return ", that is a weight"
	case volumeWords[word] > 0:
		return ", that is a volume"
	}
	return ""
}
