package files

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Key is one key that a file may have. The reader takes no key that stands in no table,
// and help prints the same table.
type Key struct {
	Name    string // as it is written; in capitals where the name is free
	Means   string
	Unit    string // what its value is written in
	Default string // what is read when the key is left out
	Without string // in words, what holds when it is left out
	Must    bool   // it cannot be left out
	Example string // a value; several are parted by " | "
	Keys    []Key  // that stand below it
	Kinds   []Kind // lists of keys, of which one stands below it
}

// Kind is a list of keys that stand together.
type Kind struct {
	Name string // how the file says that it is this one
	Keys []Key
}

// File is a kind of file with all its keys.
type File struct {
	Name, Means string
	Keys        []Key
	Kinds       []Kind
}

// Tables lists the files and their keys.
func Tables() []File {
	return []File{
		{"mold-file", "One bait, its mold, its colours and how it is poured. Lengths, volumes and weights carry their unit, temperatures their letter.", moldKeys, nil},
		{"shop-file", "What does not change from bait to bait: materials, additives, injectors, vessels and how the shop works.", shopKeys, nil},
		{"order-file", "Several baits that are poured together, each with its mold file.", orderKeys, nil},
		{"line-file", "A colour line alone, as split --line reads it and as it stands under line in a mold file.", layerKeys, kindsOfLine()},
	}
}

// What values are written in.
const (
	aName      = "a name"
	aFile      = "a file, beside this one"
	aModel     = "an STL file, beside this one"
	aLength    = "mm, cm, m, in"
	aHeight    = "mm, cm, m, in; may be negative"
	aVolume    = "mL, L, tsp, tbsp, fl oz, cup, pt, qt, gal"
	aMass      = "g, kg, oz, lb"
	aHeat      = "F or C, always with its letter"
	aShare     = "a share"
	aTime      = "s, min, h"
	aCount     = "a whole number"
	aNumber    = "a number"
	aDensity   = "g/mL, lb/gal"
	freeText   = "any text"
	anAngle    = "deg"
	aDirection = "+x, -x, +y, -y, +z, -z or x,y,z"
)

// examples are the values that an example holds.
func (k Key) examples() []string { return strings.Split(k.Example, " | ") }

// isFree tells a key that stands for any name.
func (k Key) isFree() bool {
	return !strings.ContainsFunc(k.Name, func(r rune) bool { return unicode.IsLower(r) })
}

// entry is what the table says of a key. A reader that asks for what its table lacks is
// wrong itself.
func (s *section) entry(name string) Key {
	for _, k := range s.known {
		if k.Name == name || k.isFree() {
			return k
		}
	}
	panic(fmt.Sprintf("%s is asked for, and its table does not have it", s.sub(name)))
}

// takes says which keys a section may have, and tells those that it may not.
func (s *section) takes(known []Key) *section {
	s.known = known
	if len(known) > 0 && known[0].isFree() {
		return s // for the reader to say
	}
	var names []string
	for _, k := range known {
		names = append(names, k.Name)
	}
	s.only(names)
	return s
}

// only refuses names that are not among some. One that is nearly the word of a key that
// is not there is taken for its misspelling.
func (s *section) only(names []string) {
	for _, name := range without(s.order, names) {
		if meant := nearest(name, without(names, s.order)); meant != "" {
			s.fail(name, "unknown key; did you mean %s?", meant).Fix = Fix{Rename: meant}
			s.spoil(meant)
			continue
		}
		s.fail(name, "unknown key; known here: %s", strings.Join(slices.Sorted(slices.Values(names)), ", ")).Fix = Fix{Remove: true}
	}
}

// without returns the names that are not among others.
func without(names, others []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return slices.Contains(others, n) })
}
