package files

import (
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
	"bellyline/laminate/order"
)

// Bench is how a shop works, for orders.
type Bench = order.Bench

// Editable defaults of the bench, all common practice, no source.
const (
	defaultShot    = units.Seconds(30)
	defaultRefill  = units.Seconds(20)
	defaultHeatCup = units.Seconds(150)
	defaultWarmUp  = 1
	defaultReheats = 3
	longestPause   = 1e6 // s
)

// readBench reads how the shop works; every key may be missing.
func readBench(s *section, room units.Celsius) Bench {
	b := Bench{
		ShotS: defaultShot.S(), RefillS: defaultRefill.S(), HeatSPerML: defaultHeatCup.S() / units.Cup.ML(),
		WarmUp: defaultWarmUp, Reheats: defaultReheats, RoomC: float64(room),
	}
	sub := s.section("bench", false)
	if sub == nil {
		return b
	}
	b.ShotS = may(sub, "shot", defaultShot, positive(pause)).S()
	b.RefillS = may(sub, "refill", defaultRefill, pause).S()
	b.HeatSPerML = may(sub, "cup_heats_in", defaultHeatCup, pause).S() / units.Cup.ML()
	b.AtOnce = may(sub, "at_once", "no", choice("yes", "no")) == "yes"
	b.WarmUp = may(sub, "warm_up", defaultWarmUp, count(0, 20))
	b.ColdAfterS = may(sub, "cold_after", 0, positive(pause)).S()
	b.PurgeML = may(sub, "purge", 0, units.ParseVolume).ML()
	b.Reheats = may(sub, "reheats", defaultReheats, count(0, 20))
	b.HandleS = may(sub, "trim", 0, pause).S()
	b.PackS = may(sub, "pack", 0, pause).S()
	b.LabourPerHour = 3600 * may(sub, "labour", 0, perTime)
	b.TaxShare = may(sub, "tax", 0, units.ParseShare)
	sub.done()
	return b
}

// pause reads a time that somebody might wait.
func pause(t string) (units.Seconds, error) {
	d, err := units.ParseDuration(t)
	if err == nil && d > longestPause {
		return 0, units.ErrTooLarge
	}
	return d, err
}

// perTime parses a wage like "18 / h" into money per second.
func perTime(t string) (float64, error) {
	if first := strings.TrimSpace(t); first == "0" {
		return 0, nil
	}
	return price("a time, like 18 / h", func(s string) (float64, error) {
		d, err := units.ParseDuration(s)
		return d.S(), err
	})(t)
}

// readCooling reads two thermometer readings of a vessel.
func readCooling(room units.Celsius, s *section) laminate.Cooling {
	sub := s.section("cooled", false)
	if sub == nil {
		return laminate.Cooling{}
	}
	c := laminate.Cooling{
		FromC:  float64(need(sub, "from", units.ParseTemperature)),
		ToC:    float64(need(sub, "to", units.ParseTemperature)),
		AfterS: need(sub, "in", positive(pause)).S(),
	}
	switch {
	case units.Celsius(c.FromC) > cavity.Hottest:
		sub.fail("from", "%s", cavity.PastHottest(units.Celsius(c.FromC)))
	case !(c.ToC < c.FromC && units.Celsius(c.ToC) > room):
		sub.fail("to", "the second reading, %v, lies between the first, %v, and the room, %v", units.Celsius(c.ToC), units.Celsius(c.FromC), room)
	}
	sub.done()
	return c
}
