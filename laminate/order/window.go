package order

import (
	"fmt"
	"math"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// A batch in its vessel cools by Newton's law, T = room + (T0-room) exp(-t/tau)
// (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, section 5.1; from
// memory), with tau from the shop's own two readings.

// TimeConstant returns tau in seconds, or 0 when there are no readings.
func TimeConstant(c laminate.Cooling, roomC float64) float64 {
	if c.AfterS == 0 {
		return 0
	}
	return c.AfterS / math.Log((c.FromC-roomC)/(c.ToC-roomC))
}

// CooledTo returns the temperature of a batch after some seconds.
func CooledTo(fromC, afterS, tau, roomC float64) float64 {
	return roomC + (fromC-roomC)*math.Exp(-afterS/tau)
}

// CoolsIn returns in how many seconds a batch falls from one temperature to
// another; less than 0 when it is already colder.
func CoolsIn(fromC, toC, tau, roomC float64) float64 {
	return tau * math.Log((fromC-roomC)/(toC-roomC))
}

// HeatTo returns how hot a batch must be for it to have a temperature after some seconds.
func HeatTo(wantedC, afterS, tau, roomC float64) float64 {
	return roomC + (wantedC-roomC)*math.Exp(afterS/tau)
}

func checkCooling(c laminate.Cooling, roomC float64) string {
	switch {
	case c == laminate.Cooling{}:
		return ""
	case !(c.AfterS > 0 && c.AfterS <= longestS):
		return fmt.Sprintf("%g s lie between its two thermometer readings", c.AfterS)
	case !(c.FromC > c.ToC && c.ToC > roomC):
		return fmt.Sprintf("its two thermometer readings, %v and then %v, do not fall towards the room at %v",
			units.Celsius(c.FromC), units.Celsius(c.ToC), units.Celsius(roomC))
	case c.FromC > 400:
		return fmt.Sprintf("a reading of %v", units.Celsius(c.FromC))
	}
	return ""
}
