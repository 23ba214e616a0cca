package units

// Seconds is a duration in seconds.
type Seconds float64

// knownDurations are the units in the spelling that error messages offer.
const knownDurations = "s, min, h"

var durationWords = map[string]float64{
	"s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "minute": 60, "minutes": 60, "h": 3600, "hr": 3600, "hour": 3600, "hours": 3600,
}

// ParseDuration reads "90 s", "2 1/2 min", "1 min + 30 s", "2 h".
func ParseDuration(s string) (Seconds, error) {
	v, err := parseMeasure(s, durationWords)
	if err != nil {
		return 0, measureError("time", s, err, knownDurations, "90 s, 2 1/2 min or 1 h")
	}
	return Seconds(v), nil
}

// S returns the duration as a plain number of seconds.
func (s Seconds) S() float64 { return float64(s) }
