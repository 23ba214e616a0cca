package files

import (
	"slices"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

var injectorKeys = []Key{
	{Name: "drive", Means: "whether one handle pushes all plungers (ganged), or each is pushed by itself", Unit: "ganged, independent", Without: "needed with two barrels and more", Example: "ganged | independent"},
	{Name: "barrels", Means: "its barrels by name, one to four", Must: true, Keys: []Key{{Name: "BARREL", Keys: barrelKeys, Example: "{bore: 1 1/4 in, holds: 6 fl oz}"}},
		Example: "{left: {bore: 1 1/4 in, holds: 6 fl oz}, right: {bore: 1 1/4 in, holds: 6 fl oz}}"},
}

var barrelKeys = []Key{
	{Name: "bore", Means: "inner diameter", Unit: aLength, Without: "needed when ganged", Example: "1 1/4 in | 32 mm"},
	{Name: "holds", Means: "what it holds, drawn full", Unit: aVolume, Must: true, Example: "6 fl oz | 180 mL"},
	{Name: "keeps", Means: "what stays in it: draw and push out cold water, weigh what stays; 1 g is 1 mL", Unit: aVolume, Default: "0 mL", Example: "4 mL"},
}

// Bores that no barrel has.
const narrowestBoreMM, widestBoreMM = 1, 300

func readInjector(name string, s *section) laminate.Injector {
	in := laminate.Injector{Name: name}
	each(s, "barrels", func(barrel string, b *section) { in.Barrels = append(in.Barrels, readBarrel(barrel, b)) })
	in.Drive = may(s, "drive", laminate.Independent, choice(laminate.Independent, laminate.Ganged))
	switch n := len(in.Barrels); {
	case !s.sound("barrels"):
	case n < 1 || n > laminate.MostColours:
		s.fail("barrels", "an injector has one barrel to %d, not %d", laminate.MostColours, n)
	case n > 1 && !s.has("drive"):
		s.missing("drive")
	case in.Drive == laminate.Ganged && slices.ContainsFunc(in.Barrels, func(b laminate.Barrel) bool { return b.BoreMM == 0 }):
		s.fail("barrels", "ganged barrels need their bores, since these fix the ratio: add bore: to each")
	}
	return in
}

func readBarrel(name string, s *section) laminate.Barrel {
	b := laminate.Barrel{
		Name:       name,
		BoreMM:     take(s, "bore", units.ParseLength).MM(),
		CapacityML: take(s, "holds", positive(units.ParseVolume)).ML(),
		KeepsML:    take(s, "keeps", units.ParseVolume).ML(),
	}
	if s.sound("holds", "keeps") && b.KeepsML >= b.CapacityML {
		s.fail("keeps", "a barrel that holds %v cannot keep %v", units.Volume(b.CapacityML), units.Volume(b.KeepsML)).Fix = Fix{Remove: true}
	}
	if s.has("bore") && (b.BoreMM < narrowestBoreMM || b.BoreMM > widestBoreMM) {
		s.fail("bore", "a bore of %v cannot be", units.Length(b.BoreMM)).write(s.entry("bore").examples()...)
	}
	return b
}
