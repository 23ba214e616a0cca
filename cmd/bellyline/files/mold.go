package files

import (
	"maps"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Mold is a mold file: one bait, the mold that makes it, and how it is poured.
type Mold struct {
	File       string
	Shop       *Shop
	Bait, Name string
	Model      *Model     // nil when the bait was only weighed
	Halves     *Halves    // nil when the bait has a model of its own or was weighed
	Weighed    units.Mass // otherwise
	Cavities   int        // 0 when it is for the halves to say
	Feed       []Channel
	Fed        float64
	FedGiven   bool
	Lines      []laminate.Line // between the colours, from the lowest up
	Colours    []laminate.Colour
	Injector   laminate.Injector // barrels in the order of the colours
	Apart      laminate.Apart
	Across     *laminate.Across
	Vessel     laminate.Vessel
	Pack       int // baits in a pack; 0 when not given
	Baits      int
	OpensAfter units.Seconds // from the shot until the mold is free again; 0 when not given
	Hook       laminate.Hook
	WaterC     float64
	Weighings  laminate.Weighings
	Notes      string // for the card, lines kept
}

var moldKeys = []Key{
	{Name: "shop", Means: "the shop file", Unit: aFile, Must: true, Example: "../shop.yaml"},
	{Name: "bait", Means: "what the bait is called", Unit: aName, Must: true, Example: "4 in paddle tail"},
	{Name: "mold", Means: "what the mold is called", Unit: aName, Must: true, Example: "twin swimmer"},
	{Name: "model", Means: "the bait's model; one of model, halves, weighed and weighings is needed", Unit: aModel, Example: "bait.stl"},
	{Name: "halves", Means: "models of the mold's halves, as the colours call them: cavities, their number, runner and gates are measured there", Keys: halfKeys, Example: "{lower half: a.stl, upper half: b.stl}"},
	{Name: "weighed", Means: "one bait on the scale, where there is no model", Unit: aMass, Example: "9.8 g | 1/2 oz"},
	{Name: "unit", Means: "one unit of the models; STL does not say", Unit: "mm, cm, in, m", Default: "mm", Example: "mm | in"},
	{Name: "back", Means: "direction from belly to back in the model", Unit: aDirection, Default: "+z", Example: "+z | 0,1,0"},
	{Name: "nose", Means: "direction from tail to nose; of halves, seen from above onto the first", Unit: aDirection, Default: "+x", Example: "+x | -x"},
	{Name: "cavities", Means: "how many baits the mold makes at once", Unit: aCount, Without: "needed, but with halves", Example: "2"},
	{Name: "feed", Means: "what a shot fills besides the baits", Without: "none, as on an open mold; needed with several colours, but with halves", Keys: feedKeys, Example: "{runner: {volume: 6 mL}}"},
	{Name: "fed", Means: "share of its shrinkage that a bait draws from the runner", Unit: aShare, Without: "that of the shop file", Example: "40 % | 0.4"},
	{Name: "injector", Means: "the injector, as the shop file calls it", Unit: aName, Must: true, Example: "twin"},
	{Name: "vessel", Means: "what each colour is heated in, as the shop file calls it", Unit: aName, Must: true, Example: "quart cup"},
	{Name: "line", Means: "where the colours part", Without: "needed with several colours", Kinds: kindsOfLine(), Example: "{belly_share: 40/60}"},
	{Name: "colours", Means: "a list of them, from belly to back", Must: true, Keys: colourKeys,
		Example: "[{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]"},
	{Name: "plungers_apart", Means: "how far apart the plungers start, or by how much which colour comes first: push both over a cup until both show", Unit: aLength, Keys: apartKeys, Example: "3 mm | {belly: 3 mm}"},
	{Name: "streams", Means: "where the plane between two streams stands: across, when the block sits a quarter turn off, makes no laminate", Unit: "parting face, across", Default: along, Example: "parting face | across"},
	{Name: "sides", Means: "with streams across: how many cavities lie on the side of the runner that each colour's stream faces", Keys: sideKeys, Example: "{belly: 1, back: 1}"},
	{Name: "opens_after", Means: "from the shot until the mold is empty and cool enough to be filled again", Unit: aTime, Without: "2 min in orders", Example: "2 min"},
	{Name: "pack", Means: "baits in a pack", Unit: aCount, Example: "10"},
	{Name: "order", Means: "how many baits or packs to make", Unit: "a whole number, or like 4 packs", Without: "one shot", Example: "40"},
	{Name: "water", Means: "what the bait swims in", Unit: aHeat, Default: "20C", Example: "60F | 16C"},
	{Name: "hook", Means: "what hangs on the bait, to say whether it floats", Keys: hookKeys, Example: "{weight: 2 g, volume: 0.25 mL}"},
	{Name: "notes", Means: "what the card is to say besides", Unit: freeText, Example: "shake the flake in late"},
	{Name: "weighings", Means: "what the scale says of baits made so far; it goes before anything worked out", Keys: weighingKeys, Example: "{baits: [12.1 g, 12.0 g, 12.2 g]}"},
}

// ReadMold reads a mold file, or standard input for "-", and the shop file that
// it names. Every error is an *Error, or Errors.
func ReadMold(path string) (*Mold, error) { return (&reading{}).moldNamed(path) }

// ReadMold reads a mold file of the set, and the shop file that it names. Paths of
// models are bare names. Every error is an *Error, or Errors.
func (set Set) ReadMold(name string) (*Mold, error) { return (&reading{set: set}).moldNamed(name) }

func (r *reading) moldNamed(path string) (*Mold, error) {
	s := r.openArgument(path)
	if s != nil && s.has("materials") && !s.has("colours") {
		s = r.told(nil, &Error{File: s.doc.file, Msg: "this is a shop file; give a mold file, which names its shop file"})
	}
	if s == nil {
		return nil, r.err()
	}
	s.takes(moldKeys)
	m := readMold(s, r.shopOf(s))
	if err := r.err(); err != nil {
		return nil, err
	}
	return m, nil
}

// mostBaits is more than any shop pours from one order.
const mostBaits = 10_000_000

// readMold reads the rest of a mold file, once its shop file is read. Without a sound
// shop what depends on it is not judged.
func readMold(s *section, shop *Shop) *Mold {
	m := &Mold{
		File: s.doc.file, Shop: shop,
		Bait:     take(s, "bait", word),
		Name:     take(s, "mold", word),
		Cavities: take(s, "cavities", count(1, 1000)),
		FedGiven: s.has("fed") || shop.FedGiven,
		Fed:      may(s, "fed", shop.Fed, units.ParseShare),
		Pack:     take(s, "pack", count(1, mostBaits)),

		OpensAfter: take(s, "opens_after", positive(pause)),
		Notes:      take(s, "notes", paragraph),
	}
	m.Baits = take(s, "order", func(t string) (int, error) { return ParseBaits(t, m.Pack) })
	m.readBait(s)
	if m.Halves == nil && !s.has("halves") && !s.has("cavities") {
		s.missing("cavities")
	}
	m.readColours(s)
	m.Feed = readFeed(s, m.Halves != nil, len(m.Colours) > 1)
	m.orderHalves(s)
	m.readLine(s)
	m.checkHalves(s)
	m.readStart(s)
	m.readStreams(s)
	m.Vessel = lookUp(s, "vessel", shop.Vessels)
	m.readWater(s)
	m.readWeighings(s)
	return m
}

// shopOf reads the shop file that a mold or order file names; an empty one where
// it cannot.
func (r *reading) shopOf(s *section) *Shop {
	r.blind = true // until it is read without a fault
	none := &Shop{Fed: cavity.DefaultFed}
	name := take(s, "shop", filePath)
	if name == "" {
		return none
	}
	text, err := r.find(s.doc.beside(name))
	if err == nil && text != nil {
		err = notShop(text)
	}
	if err != nil && err.Line == 0 {
		// It is no shop file at all, so it is the line that names it that must be mended.
		s.fail("shop", "%v", err)
		return none
	}
	if r.told(text, err) == nil {
		return none
	}
	shop := readShop(text)
	r.blind = text.doc.faulty
	return shop
}

// lookUp finds a name of the mold file in the shop file.
func lookUp[T any](s *section, key string, among map[string]T) T {
	names := slices.Sorted(maps.Keys(among))
	if !s.has(key) && len(names) > 0 {
		s.missingLike(key, Scalar(names[0]))
	}
	name := need(s, key, word)
	v, ok := among[name]
	if !ok && s.sound(key) && !s.doc.blind {
		s.fail(key, "the shop file has no %s %q; %s", key, name, choices(name, names)).Fix = Fix{Value: Scalar(nearestOrFirst(name, names))}
	}
	return v
}
