package files

import (
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate/order"
)

// Bench is how a shop works, for orders.
type Bench = order.Bench

// What has a default here is common practice, no source.
var benchKeys = []Key{
	{Name: "shot", Means: "time to fill one mold", Unit: aTime, Default: "30 s", Example: "30 s"},
	{Name: "refill", Means: "time to draw the barrels full", Unit: aTime, Default: "20 s", Example: "20 s"},
	{Name: "cup_heats_in", Means: "time to heat a cup of plastisol", Unit: aTime, Default: "150 s", Example: "2 1/2 min"},
	{Name: "at_once", Means: "whether all colours are heated at the same time", Unit: "yes, no", Default: "no", Example: "yes | no"},
	{Name: "warm_up", Means: "shots that a cold mold spoils", Unit: aCount, Default: "1", Example: "1"},
	{Name: "cold_after", Means: "a mold that rests longer is cold again", Unit: aTime, Without: "never", Example: "20 min"},
	{Name: "purge", Means: "shot away when a barrel changes its colour", Unit: aVolume, Default: "0 mL", Example: "10 mL"},
	{Name: "reheats", Means: "how often plastic may be heated again", Unit: aCount, Default: "3", Example: "3"},
	{Name: "trim", Means: "time to trim a bait", Unit: aTime, Default: "0 s", Example: "8 s"},
	{Name: "pack", Means: "time to pack a bag", Unit: aTime, Default: "0 s", Example: "30 s"},
	{Name: "labour", Means: "what an hour of work costs", Unit: "money / a time", Without: "nothing", Example: "18 / h"},
	{Name: "tax", Means: "on what is bought", Unit: aShare, Default: "0 %", Example: "8 %"},
}

// longestPause is longer than anybody waits, in s.
const longestPause = 1e6

// readBench reads how the shop works.
func readBench(s *section, room units.Celsius) Bench {
	sub := s.sectionOrEmpty("bench")
	return Bench{
		ShotS:         take(sub, "shot", positive(pause)).S(),
		RefillS:       take(sub, "refill", pause).S(),
		HeatSPerML:    take(sub, "cup_heats_in", pause).S() / units.Cup.ML(),
		AtOnce:        take(sub, "at_once", choice("yes", "no")) == "yes",
		WarmUp:        take(sub, "warm_up", count(0, 20)),
		ColdAfterS:    take(sub, "cold_after", positive(pause)).S(),
		PurgeML:       take(sub, "purge", units.ParseVolume).ML(),
		Reheats:       take(sub, "reheats", count(0, 20)),
		HandleS:       take(sub, "trim", pause).S(),
		PackS:         take(sub, "pack", pause).S(),
		LabourPerHour: 3600 * take(sub, "labour", PerTime),
		TaxShare:      take(sub, "tax", units.ParseShare),
		RoomC:         float64(room),
	}
}

// pause reads a time that somebody might wait.
func pause(t string) (units.Seconds, error) {
	d, err := units.ParseDuration(t)
	if err == nil && d > longestPause {
		return 0, units.ErrTooLarge
	}
	return d, err
}

// PerTime parses a wage like "18 / h" into money per second.
func PerTime(t string) (float64, error) {
	if first := strings.TrimSpace(t); first == "0" {
		return 0, nil
	}
	return price("a time", func(s string) (float64, error) {
		d, err := units.ParseDuration(s)
		return d.S(), err
	})(t)
}
