package files

import (
	"path"
	"strings"
)

// Set is files that came together without a folder, by their bare names: they name
// each other by the last part of a path, and nothing is looked for on a disk.
type Set map[string][]byte

// bare is the name of a file without its folders, written for any system.
func bare(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// ReadMold reads a mold file of the set, and the shop file that it names. Paths of
// models are bare names. Every error is an *Error.
func (set Set) ReadMold(name string) (*Mold, error) {
	s, err := set.open(name)
	if err != nil {
		return nil, err
	}
	shop, err := readShopOf(s)
	if err != nil {
		return nil, err
	}
	return readMold(s, shop)
}

func (set Set) open(name string) (*section, error) {
	data, ok := set[name]
	if !ok {
		return nil, &Error{File: name, Msg: "it was not given together with the files that name it; choose all of them at once"}
	}
	s, err := parse(name, data)
	if err != nil {
		return nil, err
	}
	s.doc.set = set
	return s, nil
}

// beside finds a file that a document names.
func (d *document) beside(name string) string {
	if d.set != nil {
		return bare(name)
	}
	return beside(d.file, name)
}

// openShop opens the shop file that a document names.
func (d *document) openShop(path string) (*section, error) {
	if d.set != nil {
		return d.set.open(path)
	}
	return open(path)
}
