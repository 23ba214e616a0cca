package files

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bellyline/cmd/bellyline/plain"

	"github.com/goccy/go-yaml/ast"
)

// section is one mapping of a file being read. Errors go to its reading.
type section struct {
	doc    *document
	key    string // dotted path of this mapping
	line   int
	values map[string]ast.Node
	order  []string
	known  []Key // that it may have
	bad    map[string]bool
	up     *section // that it stands in, under the key of that name
	name   string
	value  string // of an item of a list that is one value
	single bool
}

// section makes a section of a mapping node.
func (d *document) section(key string, n ast.Node) *section {
	s := &section{doc: d, key: key, line: line(n), values: map[string]ast.Node{}, bad: map[string]bool{}}
	var pairs []*ast.MappingValueNode
	switch m := n.(type) {
	case *ast.MappingNode:
		pairs = m.Values
	case *ast.MappingValueNode:
		pairs = []*ast.MappingValueNode{m}
	default:
		s.fail("", "expected lines like key: value (a space follows the colon), found %s", describe(n))
		return nil
	}
	if len(pairs) > 0 {
		s.line = line(pairs[0].Key)
	}
	for _, p := range pairs {
		text, ok := scalar(p.Key)
		name := plain.Name(text)
		switch {
		case !ok || p.Key.IsMergeKey():
			d.fail(line(p.Key), key, "a key is a plain word here; anchors, aliases and merged keys (<<) are not read")
		case name == "":
			d.fail(line(p.Key), key, "nothing printable is left of this key")
		case s.has(name):
			d.fail(line(p.Key), s.sub(name), "the key is given twice")
		default:
			s.values[name] = p.Value
			s.order = append(s.order, name)
		}
	}
	return s
}

// below makes a section of what stands under a key, or in a list there; nil where no
// mapping does.
func (s *section) below(name, key string, n ast.Node) *section {
	sub := s.doc.section(key, n)
	if sub == nil {
		s.spoil(name)
		return nil
	}
	sub.up, sub.name = s, name
	if k := s.entry(name); k.Kinds == nil {
		sub.takes(k.Keys)
	}
	return sub
}

func (s *section) sub(name string) string {
	if s.key == "" {
		return name
	}
	return s.key + "." + name
}

// has tells whether a key is there.
func (s *section) has(name string) bool {
	_, ok := s.values[name]
	return ok
}

// fail records an error at a key of this section; only the first at each key counts.
func (s *section) fail(name, format string, args ...any) *Error {
	at, key := s.line, s.key
	if name != "" {
		if s.bad[name] {
			return &Error{}
		}
		key = s.sub(name)
		if n, ok := s.values[name]; ok {
			at = line(n)
		}
	}
	s.spoil(name)
	return s.doc.fail(at, key, format, args...)
}

// spoil marks a key as one whose value means nothing.
func (s *section) spoil(name string) {
	s.bad[name] = true
	if s.up != nil {
		s.up.spoil(s.name)
	}
}

// sound tells that nothing is wrong with some keys nor below them, without names that
// nothing at all is wrong here.
func (s *section) sound(names ...string) bool {
	for _, name := range names {
		if s.bad[name] {
			return false
		}
	}
	return len(names) > 0 || len(s.bad) == 0
}

// longestValue is far longer than any value but notes, and shorter than what an unclosed
// quotation mark swallows.
const longestValue = 500

// text returns a scalar that may be so long.
func (s *section) text(name string, longest int) (string, bool) {
	if !s.has(name) {
		return "", false
	}
	t, ok := scalar(s.values[name])
	var e *Error
	switch {
	case s.values[name].Type() == ast.NullType:
		e = s.fail(name, "the value is missing; fill it in or take the key out (a value that begins with # needs quotes)")
	case !ok:
		e = s.fail(name, "expected one value, found %s", describe(s.values[name]))
	case strings.TrimSpace(t) == "":
		e = s.fail(name, "the value is empty")
	case utf8.RuneCountInString(t) > longest:
		s.fail(name, "the value is %d characters long; was a quotation mark not closed?", utf8.RuneCountInString(t))
		return "", false
	default:
		return t, true
	}
	e.write(s.entry(name).examples()...)
	return "", false
}

// section returns the mapping under a key; nil when it is not there.
func (s *section) section(name string) *section {
	if !s.has(name) {
		if s.entry(name).Must {
			s.missing(name)
		}
		return nil
	}
	return s.below(name, s.sub(name), s.values[name])
}

// sectionOrEmpty is section with an empty one where the key is not there.
func (s *section) sectionOrEmpty(name string) *section {
	if sub := s.section(name); sub != nil {
		return sub
	}
	return &section{doc: s.doc, key: s.sub(name), known: s.entry(name).Keys, bad: map[string]bool{}}
}

// list returns the mappings of a list under a key, in order.
func (s *section) list(name string) []*section {
	if !s.has(name) {
		if s.entry(name).Must {
			s.missing(name)
		}
		return nil
	}
	seq, ok := s.values[name].(*ast.SequenceNode)
	if !ok {
		s.fail(name, "expected a list (lines that begin with -), found %s", describe(s.values[name])).write(s.entry(name).examples()...)
		return nil
	}
	var out []*section
	for i, v := range seq.Values {
		if sub := s.below(name, fmt.Sprintf("%s[%d]", s.sub(name), i+1), v); sub != nil {
			out = append(out, sub)
		}
	}
	return out
}

// items returns the entries of a list under a key, each a mapping or one value.
func (s *section) items(name string) []*section {
	seq, ok := s.values[name].(*ast.SequenceNode)
	if !ok {
		s.fail(name, "expected a list, found %s", describe(s.values[name])).write(s.entry(name).examples()...)
		return nil
	}
	var out []*section
	for i, v := range seq.Values {
		key := fmt.Sprintf("%s[%d]", s.sub(name), i+1)
		if text, ok := scalar(v); ok {
			out = append(out, &section{doc: s.doc, key: key, line: line(v), value: text, single: true, up: s, name: name, bad: map[string]bool{}})
			continue
		}
		if sub := s.below(name, key, v); sub != nil {
			out = append(out, sub)
		}
	}
	return out
}

// alone returns the value of an item that is no mapping.
func (s *section) alone() (string, bool) { return s.value, s.single }

// missing reports a required key that is not there.
func (s *section) missing(name string) { s.missingLike(name, s.entry(name).examples()...) }

// missingLike is missing with examples of its own.
func (s *section) missingLike(name string, examples ...string) {
	if s.bad[name] { // misspelt, and told so
		return
	}
	k := s.entry(name)
	line := name + ": " + examples[0]
	s.fail("", "the key %q is missing (%s); add it, like %s", name, k.Means, line).Fix = Fix{Add: line}
	s.spoil(name)
}

// noneOf reports that none of a few keys is there, unless one is misspelt. Adding the
// line add mends it.
func (s *section) noneOf(names []string, add, format string, args ...any) {
	s.ways(names, 0, add, format, args...)
}

// ways reports that not just one of a few keys is given.
func (s *section) ways(names []string, given int, add, format string, args ...any) {
	if !s.sound(names...) {
		return
	}
	e := s.fail("", format, args...)
	if given == 0 {
		e.Fix = Fix{Add: add}
	}
	for _, name := range names {
		s.spoil(name)
	}
}
