package files

import (
	"errors"
	"path/filepath"

	"bellyline/cavity/units"
	"bellyline/laminate"
	"bellyline/laminate/order"
)

// Order is an order file: several baits that are poured together.
type Order struct {
	File, Name string
	Shop       *Shop
	Lines      []OrderLine
	Leftovers  []order.Leftover
}

// OrderLine is one bait of an order file.
type OrderLine struct {
	Name     string
	Mold     *Mold
	Recast   bool // the line has its own colours or vessel, not those of the mold file
	Pieces   int
	Packs    int // 0 when sold loose
	Molds    int
	Scrap    float64
	BagPrice float64
}

// defaultOpens is how long a mold cools where its file does not say: bench practice is
// 1 to 3 minutes, no source.
const defaultOpens = units.Seconds(120)

// mostPieces is more than any shop pours from one order.
const mostPieces = 1_000_000

var orderKeys = []Key{
	{Name: "shop", Means: "the shop file; all mold files must name it", Unit: aFile, Must: true, Example: "shop.yaml"},
	{Name: "order", Means: "what the order is called", Unit: aName, Must: true, Example: "boxes for spring"},
	{Name: "lines", Means: "a list of the baits to make", Must: true, Keys: orderLineKeys, Example: "[{mold: paddletail/mold.yaml, pieces: 120}]"},
	{Name: "scrap", Means: "share of the baits that is thrown out, of lines that do not say", Unit: aShare, Default: "0 %", Example: "4 %"},
	{Name: "pack", Means: "baits in a pack, of lines that do not say", Unit: aCount, Without: "as the mold file says", Example: "10"},
	{Name: "bag", Means: "what one bag costs, of lines that do not say", Unit: "money", Default: "0", Example: "0.12"},
	{Name: "vessel", Means: "for all lines that do not say, instead of their mold files'", Unit: aName, Example: "gallon pot"},
	{Name: "leftovers", Means: "a list of what is left from earlier days; it is used first, while it may be heated and makes nothing dearer", Keys: leftoverKeys, Example: "[{colour: belly, weight: 250 g, heated: 1}]"},
}

var orderLineKeys = []Key{
	{Name: "mold", Means: "the mold file of the bait", Unit: aFile, Must: true, Example: "paddletail/mold.yaml"},
	{Name: "name", Means: "what the line is called", Unit: aName, Without: "the bait's name", Example: "paddle tail, white"},
	{Name: "pieces", Means: "how many baits; pieces or packs is needed", Unit: "a whole number, or like 4 packs", Example: "120"},
	{Name: "packs", Means: "how many packs", Unit: aCount, Example: "12"},
	{Name: "pack", Means: "baits in a pack", Unit: aCount, Without: "as the order says", Example: "10"},
	{Name: "bag", Means: "what one bag costs", Unit: "money", Without: "as the order says", Example: "0.12"},
	{Name: "molds", Means: "how many of the mold there are; as few are used as cost least with labour", Unit: aCount, Default: "1", Example: "2"},
	{Name: "scrap", Means: "share of the baits that is thrown out", Unit: aShare, Without: "as the order says", Example: "4 %"},
	{Name: "injector", Means: "instead of the mold file's; it takes colours too", Unit: aName, Example: "twin"},
	{Name: "colours", Means: "instead of the mold file's, as many", Keys: colourKeys,
		Example: "[{name: white, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]"},
	{Name: "vessel", Means: "instead of the mold file's", Unit: aName, Example: "quart cup"},
}

var leftoverKeys = []Key{
	{Name: "colour", Means: "as the plan calls it", Unit: aName, Must: true, Example: "belly"},
	{Name: "weight", Means: "how much there is", Unit: aMass, Must: true, Example: "250 g"},
	{Name: "heated", Means: "how often it has been heated so far", Unit: aCount, Must: true, Example: "1"},
}

// ReadOrder reads an order file, or standard input for "-", with the mold files and
// the shop file that it names. Every error is an *Error, or Errors.
func ReadOrder(path string) (*Order, error) {
	r := &reading{}
	s := r.openArgument(path)
	if s != nil && (s.has("materials") || !s.has("lines") && s.has("cavities")) {
		s = r.told(nil, &Error{File: path, Msg: "this is no order file; it has a list of lines, each with the mold file of a bait"})
	}
	if s == nil {
		return nil, r.err()
	}
	o := readOrder(s.takes(orderKeys))
	if err := r.err(); err != nil {
		return nil, err
	}
	return o, nil
}

func readOrder(s *section) *Order {
	o := &Order{File: s.doc.file, Shop: s.doc.shopOf(s), Name: take(s, "order", word)}
	usual := lineDefaults{
		scrap: take(s, "scrap", scrapRate), pack: take(s, "pack", count(1, mostPieces)), bag: take(s, "bag", number(dearest)),
		vessel: take(s, "vessel", word),
	}
	for _, line := range s.list("lines") {
		o.Lines = append(o.Lines, o.readLine(line, usual))
	}
	if s.has("leftovers") {
		for _, left := range s.list("leftovers") {
			o.Leftovers = append(o.Leftovers, order.Leftover{
				Colour: take(left, "colour", word), MassG: take(left, "weight", positive(units.ParseMass)).G(),
				Heated: take(left, "heated", count(1, 20)),
			})
		}
	}
	if s.sound("lines") && len(o.Lines) == 0 {
		s.fail("lines", "an order has at least one line").write(s.entry("lines").examples()...)
	}
	return o
}

// lineDefaults hold for all lines that do not say otherwise.
type lineDefaults struct {
	scrap  float64
	pack   int
	bag    float64
	vessel string
}

// scrapRate reads a share of baits that are thrown out.
func scrapRate(t string) (float64, error) {
	x, err := units.ParseShare(t)
	if err == nil && x > 0.9 {
		return 0, errors.New("no more than 90 % can be thrown out")
	}
	return x, err
}

// readLine reads one line and its mold file.
func (o *Order) readLine(s *section, usual lineDefaults) OrderLine {
	l := OrderLine{
		Molds: take(s, "molds", count(1, 100)), Scrap: may(s, "scrap", usual.scrap, scrapRate),
		BagPrice: may(s, "bag", usual.bag, number(dearest)),
	}
	if name := take(s, "mold", filePath); name != "" {
		l.Mold = o.readMold(s, s.doc.beside(name))
	}
	pack := may(s, "pack", usual.pack, count(1, mostPieces))
	if pack == 0 && l.Mold != nil {
		pack = l.Mold.Pack
	}
	l.readPieces(s, pack)
	if l.Mold != nil && !s.doc.isFaulty(l.Mold.File) {
		l.Name = may(s, "name", l.Mold.Bait, word)
		o.recast(s, &l, usual)
	}
	return l
}

// readPieces reads how many baits a line is for, in pieces or packs.
func (l *OrderLine) readPieces(s *section, pack int) {
	switch byPiece := s.has("pieces"); {
	case byPiece == s.has("packs"):
		given := 0
		if byPiece {
			given = 2
		}
		s.ways([]string{"pieces", "packs"}, given, "pieces: 120", "give either pieces (like pieces: 120) or packs (like packs: 12)")
	case byPiece:
		l.Pieces = take(s, "pieces", func(t string) (int, error) { return ParseBaits(t, pack) })
		if l.Pieces > mostPieces {
			s.fail("pieces", "%d lies outside 1 to %d", l.Pieces, mostPieces)
		}
		if pack > 0 {
			l.Packs = (l.Pieces + pack - 1) / pack
		}
	case pack == 0:
		s.fail("packs", "how many baits are in a pack? add pack: 10 here, or for all lines").Fix = Fix{Add: "pack: 10"}
	default:
		l.Packs = take(s, "packs", count(1, mostPieces/pack))
		l.Pieces = l.Packs * pack
	}
}

// readMold reads the mold file of a line, which must belong to the order's shop; nil
// where it cannot.
func (o *Order) readMold(s *section, path string) *Mold {
	m, err := s.doc.find(path)
	if err != nil && err.Line == 0 {
		s.fail("mold", "%v", err)
		return nil
	}
	if s.doc.told(m, err) == nil {
		return nil
	}
	if !m.has("colours") {
		s.fail("mold", "%s is no mold file", path)
		return nil
	}
	m.takes(moldKeys)
	shop := m.doc.beside(take(m, "shop", filePath))
	if m.sound("shop") && !s.doc.blind && !sameFile(shop, o.Shop.File) {
		m.fail("shop", "the order is for the shop of %s; all its mold files must name that one", o.Shop.File)
		return nil
	}
	return readMold(m, o.Shop)
}

func sameFile(a, b string) bool {
	x, errX := filepath.Abs(a)
	y, errY := filepath.Abs(b)
	return errX == nil && errY == nil && x == y
}

// recast lets a line have its own colours, injector and vessel.
func (o *Order) recast(s *section, l *OrderLine, usual lineDefaults) {
	m := l.Mold
	if s.has("injector") && !s.has("colours") {
		s.fail("injector", "another injector needs its colours' barrels too: add colours").Fix = Fix{Remove: true}
		return
	}
	if s.has("colours") {
		injector := m.Shop.Injectors[m.Injector.Name]
		if s.has("injector") {
			injector = lookUp(s, "injector", m.Shop.Injectors)
		}
		before := len(m.Colours)
		m.Colours = nil
		m.takeColours(s, injector)
		if len(m.Colours) != before && s.sound("colours") {
			s.fail("colours", "the mold file has %d, this line %d; the line's colours stand in their places", before, len(m.Colours))
		}
		m.orderHalves(s)
		l.Recast = true
	}
	switch {
	case s.has("vessel"):
		m.Vessel, l.Recast = lookUp(s, "vessel", m.Shop.Vessels), true
	case usual.vessel != "":
		v, ok := m.Shop.Vessels[usual.vessel]
		if !ok && !s.doc.blind {
			s.fail("", "the shop file has no vessel %q, which the order asks for", usual.vessel)
		}
		m.Vessel, l.Recast = v, true
	}
}

// Line returns the line of an order plan, once its job is made and poured.
func (l OrderLine) Line(job laminate.Job, pour *laminate.Pour) order.Line {
	opens, assumed := l.Mold.OpensAfter.S(), false
	if opens == 0 {
		opens, assumed = defaultOpens.S(), true
	}
	return order.Line{
		Name: l.Name, Job: job, Pour: pour, Pieces: l.Pieces, Packs: l.Packs, Molds: l.Molds, Scrap: l.Scrap,
		OpensAfterS: opens, OpensAssumed: assumed, BagPrice: l.BagPrice,
	}
}
