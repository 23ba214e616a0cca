package cavity

// largest is past anything at a bench: 1e9 mL is a thousand tonnes.
const largest = 1e9

// sound tells whether x is a number from 0 to largest. Every amount is asked, so
// that no NaN, infinity or negative number can turn into an answer.
func sound(x float64) bool { return x >= 0 && x <= largest }

// A density outside of this range, in g/mL, is a slip: plastics, salts and metal
// powders lie well inside.
const (
	lightestGML = 0.01
	heaviestGML = 25
)

func soundDensity(x float64) bool { return x >= lightestGML && x <= heaviestGML }
