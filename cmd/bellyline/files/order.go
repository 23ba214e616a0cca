package files

import (
	"errors"
	"path/filepath"
	"strconv"

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

// ReadOrder reads an order file, or standard input for "-", with the mold files and
// the shop file that it names. Every error is an *Error.
func ReadOrder(path string) (*Order, error) {
	s, err := openArgument(path)
	if err != nil {
		return nil, err
	}
	if s.holds("materials") || !s.holds("lines") && s.holds("cavities") {
		return nil, &Error{File: path, Msg: "this is no order file; it has a list of lines, each with the mold file of a bait"}
	}
	shop, err := readShopOf(s)
	if err != nil {
		return nil, err
	}
	o := &Order{File: path, Shop: shop, Name: need(s, "order", word)}
	usual := lineDefaults{
		scrap: may(s, "scrap", 0, scrapRate), pack: may(s, "pack", 0, count(1, mostPieces)), bag: may(s, "bag", 0, number(dearest)),
		vessel: may(s, "vessel", "", word),
	}
	for _, line := range s.list("lines") {
		if s.doc.err != nil {
			break
		}
		l, err := o.readLine(line, usual)
		if err != nil {
			return nil, err
		}
		o.Lines = append(o.Lines, l)
		line.done()
	}
	if s.has("leftovers") {
		for _, left := range s.list("leftovers") {
			o.Leftovers = append(o.Leftovers, readLeftover(left))
		}
	}
	s.done()
	if s.doc.err == nil && len(o.Lines) == 0 {
		s.fail("lines", "an order has at least one line%s", exampleOf("lines"))
	}
	return o, s.doc.err
}

// readLeftover reads what is left of one colour from earlier days.
func readLeftover(s *section) order.Leftover {
	defer s.done()
	return order.Leftover{
		Colour: need(s, "colour", word), MassG: need(s, "weight", positive(units.ParseMass)).G(),
		Heated: need(s, "heated", count(1, 20)),
	}
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

// readLine reads one line and its mold file. An error in the mold file is returned;
// one in the line sticks to the order file.
func (o *Order) readLine(s *section, usual lineDefaults) (OrderLine, error) {
	l := OrderLine{
		Molds: may(s, "molds", 1, count(1, 100)), Scrap: may(s, "scrap", usual.scrap, scrapRate),
		BagPrice: may(s, "bag", usual.bag, number(dearest)),
	}
	pack := may(s, "pack", usual.pack, count(1, mostPieces))
	switch byPiece := s.has("pieces"); {
	case byPiece == s.has("packs"):
		s.noneOf([]string{"pieces", "packs"}, "give either pieces (like pieces: 120) or packs (like packs: 12)")
	case byPiece:
		l.Pieces = need(s, "pieces", count(1, mostPieces))
		if pack > 0 {
			l.Packs = (l.Pieces + pack - 1) / pack
		}
	case pack == 0:
		s.fail("packs", "how many baits are in a pack? add pack: 10 here, or for all lines")
	default:
		l.Packs = need(s, "packs", count(1, mostPieces/pack))
		l.Pieces = l.Packs * pack
	}
	name := need(s, "mold", filePath)
	if s.doc.err != nil {
		return l, s.doc.err
	}
	var err error
	if l.Mold, err = o.readMold(s, beside(o.File, name)); err != nil || s.doc.err != nil {
		return l, err
	}
	l.Name = may(s, "name", l.Mold.Bait, word)
	o.recast(s, &l, usual)
	return l, nil
}

// readMold reads the mold file of a line, which must belong to the order's shop.
func (o *Order) readMold(s *section, path string) (*Mold, error) {
	m, err := open(path)
	if e, ok := errors.AsType[*Error](err); ok && e.Line == 0 {
		s.fail("mold", "%v", err)
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if !m.holds("colours") {
		s.fail("mold", "%s is no mold file", path)
		return nil, nil
	}
	if shop := beside(path, need(m, "shop", filePath)); m.doc.err == nil && !sameFile(shop, o.Shop.File) {
		m.fail("shop", "the order is for the shop of %s; all its mold files must name that one", o.Shop.File)
	}
	if m.doc.err != nil {
		return nil, m.doc.err
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
	if s.has("injector") && !s.holds("colours") {
		s.fail("injector", "another injector needs its colours' barrels too: add colours")
		return
	}
	if s.has("colours") {
		injector := m.Shop.Injectors[m.Injector.Name]
		if s.holds("injector") {
			injector = lookUp(s, "injector", m.Shop.Injectors)
		}
		before := len(m.Colours)
		m.Colours = nil
		m.takeColours(s, injector)
		if len(m.Colours) != before && s.doc.err == nil {
			s.fail("colours", "the mold file has %s, this line %d; the line's colours stand in their places", strconv.Itoa(before), len(m.Colours))
		}
		m.orderHalves(s)
		l.Recast = true
	}
	switch {
	case s.has("vessel"):
		m.Vessel, l.Recast = lookUp(s, "vessel", m.Shop.Vessels), true
	case usual.vessel != "":
		v, ok := m.Shop.Vessels[usual.vessel]
		if !ok {
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
