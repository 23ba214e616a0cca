package files

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/mesh/stl"
)

func readModel(s *section, path string) *Model {
	return &Model{Path: s.doc.beside(path), Unit: may(s, "unit", stl.Unit(1), stl.ParseUnit)}
}

// feedNames are the parts of a feed, in the order of the flow, and trimmings,
// which are all of it weighed at once.
var feedNames = [...]string{"plug", "sprue", "runner", "gates", "trimmings"}

// readFeed reads what a shot fills besides the baits. What is cut into the mold's
// halves is measured there.
func readFeed(s *section, halves bool) []Channel {
	group := s.section("feed", !halves)
	if group == nil {
		return nil
	}
	for _, name := range []string{"runner", "gates", "trimmings"} {
		if halves && group.has(name) {
			group.fail(name, "runner and gates are measured in the halves; list only what lies outside of them, like the plug")
		}
	}
	var feed []Channel
	for _, name := range feedNames {
		if sub := group.section(name, false); sub != nil {
			feed = append(feed, readChannel(name, sub))
			sub.done()
		}
	}
	group.done()
	if group.has("trimmings") && len(feed) > 1 {
		group.fail("trimmings", "weighed trimmings are the whole feed: give them, or its parts, not both")
	}
	return feed
}

// readChannel reads one part: a model, a volume, a weight, or a round or flat
// channel by its sizes.
func readChannel(name string, s *section) Channel {
	c := Channel{Channel: cavity.Channel{Name: name, Count: may(s, "count", 1, count(1, 10_000))}}
	ways, given := []string{"model", "volume", "weighed", "length"}, 0
	for _, key := range ways {
		if s.has(key) {
			given++
		}
	}
	if given != 1 {
		s.noneOf(ways, "give one of: model (a file), volume (like 6 mL), weighed (like 7 g), or length with diameter or with width and depth")
		return c
	}
	switch {
	case s.has("model"):
		path := need(s, "model", filePath)
		c.Model, c.Source = readModel(s, path), "model "+path
	case s.has("volume"):
		c.VolumeML, c.Source = need(s, "volume", units.ParseVolume).ML(), "as given"
	case s.has("weighed"):
		c.MassG, c.Source = need(s, "weighed", units.ParseMass).G(), "weighed"
	default:
		c.VolumeML, c.Source = readChannelSizes(s), "by its sizes"
	}
	return c
}

// readChannelSizes returns the volume in mL of a round or a flat channel.
func readChannelSizes(s *section) float64 {
	size := func(name string) float64 { return need(s, name, positive(units.ParseLength)).MM() }
	round, flat := s.has("diameter"), s.has("width") || s.has("depth")
	if round == flat {
		s.noneOf([]string{"diameter", "width", "depth"}, "give a round channel its diameter, a flat one its width and depth")
		return 0
	}
	length := size("length")
	if round {
		d := size("diameter")
		return cavity.RoundML(length, d, may(s, "to", units.Length(d), units.ParseLength).MM())
	}
	return cavity.FlatML(length, size("width"), size("depth"))
}
