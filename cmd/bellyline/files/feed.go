package files

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Channel is a part of the feed; with a Model its volume is still to be measured.
type Channel struct {
	cavity.Channel
	Model *Model
}

// feedKeys are the parts of a feed, in the order of the flow, and trimmings, which are
// all of it weighed at once.
var feedKeys = []Key{
	{Name: "plug", Means: "what stays in the block between injector and mold", Keys: channelKeys, Example: "{volume: 1.5 mL}"},
	{Name: "sprue", Means: "the way into the mold", Keys: channelKeys, Example: "{length: 20 mm, diameter: 6 mm, to: 8 mm}"},
	{Name: "runner", Means: "the ways to the gates; one model may hold sprue, runner and gates", Keys: channelKeys, Example: "{volume: 6 mL}"},
	{Name: "gates", Means: "the ways into the cavities", Keys: channelKeys, Example: "{count: 6, length: 3 mm, width: 5 mm, depth: 3 mm}"},
	{Name: "trimmings", Means: "instead of all others: what is cut off of one shot", Keys: channelKeys, Example: "{weighed: 12 g}"},
}

// channelKeys give a part by one of four ways: its model, its volume, its weight, or its
// length with a diameter, or with width and depth.
var channelKeys = []Key{
	{Name: "model", Means: "its model", Unit: aModel, Example: "runner.stl"},
	{Name: "unit", Means: "one unit of the model", Unit: "mm, cm, in, m", Default: "mm", Example: "mm | in"},
	{Name: "volume", Means: "its volume", Unit: aVolume, Example: "6 mL"},
	{Name: "weighed", Means: "its weight, cold", Unit: aMass, Example: "7 g"},
	{Name: "length", Means: "its length, with a diameter or with width and depth", Unit: aLength, Example: "60 mm | 3/8 in"},
	{Name: "diameter", Means: "of a round channel", Unit: aLength, Example: "6 mm"},
	{Name: "to", Means: "diameter of its other end", Unit: aLength, Without: "the same", Example: "8 mm"},
	{Name: "width", Means: "of a flat channel", Unit: aLength, Example: "6 mm"},
	{Name: "depth", Means: "of a flat channel", Unit: aLength, Example: "5 mm"},
	{Name: "count", Means: "how many there are of it", Unit: aCount, Default: "1", Example: "2"},
}

// readFeed reads what a shot fills besides the baits. What is cut into the mold's
// halves is measured there. A mold of one colour may be filled without any.
func readFeed(s *section, halves, several bool) []Channel {
	if several && !halves && !s.has("feed") {
		s.missing("feed")
	}
	group := s.section("feed")
	if group == nil {
		return nil
	}
	for _, name := range []string{"runner", "gates", "trimmings"} {
		if halves && group.has(name) {
			group.fail(name, "runner and gates are measured in the halves; list only what lies outside of them, like the plug").Fix = Fix{Remove: true}
		}
	}
	var feed []Channel
	for _, k := range feedKeys {
		if sub := group.section(k.Name); sub != nil {
			feed = append(feed, readChannel(k.Name, sub))
		}
	}
	if group.has("trimmings") && len(group.order) > 1 {
		group.fail("trimmings", "weighed trimmings are the whole feed: give them, or its parts, not both").Fix = Fix{Remove: true}
	}
	return feed
}

// readChannel reads one part: a model, a volume, a weight, or a round or flat
// channel by its sizes.
func readChannel(name string, s *section) Channel {
	c := Channel{Channel: cavity.Channel{Name: name, Count: take(s, "count", count(1, 10_000))}}
	ways, given := []string{"model", "volume", "weighed", "length"}, 0
	for _, key := range ways {
		if s.has(key) {
			given++
		}
	}
	if given != 1 {
		s.ways(ways, given, "volume: 6 mL", "give one of: model (a file), volume (like 6 mL), weighed (like 7 g), or length with diameter or with width and depth")
		return c
	}
	switch {
	case s.has("model"):
		c.Model, c.Source = readModel(s), "model "+take(s, "model", filePath)
	case s.has("volume"):
		c.VolumeML, c.Source = take(s, "volume", units.ParseVolume).ML(), "as given"
	case s.has("weighed"):
		c.MassG, c.Source = take(s, "weighed", units.ParseMass).G(), "weighed"
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
		given := 0
		if round {
			given = 2
		}
		s.ways([]string{"diameter", "width", "depth"}, given, "diameter: 6 mm", "give a round channel its diameter, a flat one its width and depth")
		return 0
	}
	length := size("length")
	if round {
		d := size("diameter")
		return cavity.RoundML(length, d, may(s, "to", units.Length(d), units.ParseLength).MM())
	}
	return cavity.FlatML(length, size("width"), size("depth"))
}
