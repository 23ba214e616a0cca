package files

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"bellyline/cmd/bellyline/plain"

	"github.com/goccy/go-yaml/ast"
)

// section is one mapping of a file being read. Errors go to its document.
type section struct {
	doc    *document
	key    string // dotted path of this mapping
	line   int
	values map[string]ast.Node
	order  []string
	asked  []string
	only   string // of an item of a list that is one value
	single bool
}

// section makes a section of a mapping node.
func (d *document) section(key string, n ast.Node) *section {
	s := &section{doc: d, key: key, line: line(n), values: map[string]ast.Node{}}
	var pairs []*ast.MappingValueNode
	switch m := n.(type) {
	case *ast.MappingNode:
		pairs = m.Values
	case *ast.MappingValueNode:
		pairs = []*ast.MappingValueNode{m}
	default:
		d.fail(s.line, key, "expected lines like key: value (a space follows the colon), found %s", describe(n))
		return s
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
			return s
		case name == "":
			d.fail(line(p.Key), key, "nothing printable is left of this key")
			return s
		case s.holds(name):
			d.fail(line(p.Key), s.sub(name), "the key is given twice")
			return s
		}
		s.values[name] = p.Value
		s.order = append(s.order, name)
	}
	return s
}

func (s *section) sub(name string) string {
	if s.key == "" {
		return name
	}
	return s.key + "." + name
}

// has tells whether a key is there, and counts as asking for it.
func (s *section) has(name string) bool {
	s.asked = append(s.asked, name)
	return s.holds(name)
}

// holds tells whether a key is there without asking for it.
func (s *section) holds(name string) bool {
	_, ok := s.values[name]
	return ok
}

// fail records an error at a key of this section.
func (s *section) fail(name, format string, args ...any) {
	at, key := s.line, s.key
	if name != "" {
		key = s.sub(name)
		if n, ok := s.values[name]; ok {
			at = line(n)
		}
	}
	s.doc.fail(at, key, format, args...)
}

// longestValue is far longer than any value, and shorter than what an unclosed
// quotation mark swallows.
const longestValue = 500

// text returns a scalar; missing is an error when it is required.
func (s *section) text(name string, required bool) (string, bool) {
	if !s.has(name) {
		if required {
			s.missing(name)
		}
		return "", false
	}
	t, ok := scalar(s.values[name])
	switch {
	case s.values[name].Type() == ast.NullType:
		s.fail(name, "the value is missing; fill it in or take the key out (a value that begins with # needs quotes)")
		return "", false
	case !ok:
		s.fail(name, "expected one value, found %s", describe(s.values[name]))
		return "", false
	case strings.TrimSpace(t) == "":
		s.fail(name, "the value is empty")
		return "", false
	case utf8.RuneCountInString(t) > longestValue:
		s.fail(name, "the value is %d characters long; was a quotation mark not closed?", utf8.RuneCountInString(t))
		return "", false
	}
	return t, true
}

// section returns the mapping under a key; nil when it is not there.
func (s *section) section(name string, required bool) *section {
	if !s.has(name) {
		if required {
			s.missing(name)
		}
		return nil
	}
	return s.doc.section(s.sub(name), s.values[name])
}

// list returns the mappings of a list under a key, in order.
func (s *section) list(name string) []*section {
	if !s.has(name) {
		s.missing(name)
		return nil
	}
	seq, ok := s.values[name].(*ast.SequenceNode)
	if !ok {
		s.fail(name, "expected a list (lines that begin with -), found %s", describe(s.values[name]))
		return nil
	}
	var out []*section
	for i, v := range seq.Values {
		out = append(out, s.doc.section(fmt.Sprintf("%s[%d]", s.sub(name), i+1), v))
	}
	return out
}

// items returns the entries of a list under a key, each a mapping or one value.
func (s *section) items(name string) []*section {
	s.asked = append(s.asked, name)
	seq, ok := s.values[name].(*ast.SequenceNode)
	if !ok {
		s.fail(name, "expected a list, like [12.1 g, 12.0 g], found %s", describe(s.values[name]))
		return nil
	}
	var out []*section
	for i, v := range seq.Values {
		key := fmt.Sprintf("%s[%d]", s.sub(name), i+1)
		if text, ok := scalar(v); ok {
			out = append(out, &section{doc: s.doc, key: key, line: line(v), only: text, single: true})
			continue
		}
		out = append(out, s.doc.section(key, v))
	}
	return out
}

// alone returns the value of an item that is no mapping.
func (s *section) alone() (string, bool) { return s.only, s.single }

// missing reports a required key that is not there.
func (s *section) missing(name string) {
	s.noneOf([]string{name}, "the key %q is missing; add it%s", name, exampleOf(s.sub(name)))
}

// noneOf reports that none of a few keys is there. A key that nobody asked for
// yet and that is nearly the same word as one of them is taken for its misspelling.
func (s *section) noneOf(names []string, format string, args ...any) {
	for _, name := range names {
		if slip := nearest(name, without(s.order, s.asked)); slip != "" {
			s.fail(slip, "unknown key; did you mean %s?", name)
			return
		}
	}
	s.fail("", format, args...)
}

// done reports the first key that nobody asked for, with those that exist.
func (s *section) done() {
	known := slices.Clone(s.asked)
	slices.Sort(known)
	known = slices.Compact(known)
	for _, name := range s.order {
		if slices.Contains(known, name) {
			continue
		}
		if meant := nearest(name, without(known, s.order)); meant != "" {
			s.fail(name, "unknown key; did you mean %s? known here: %s", meant, strings.Join(known, ", "))
		} else {
			s.fail(name, "unknown key; known here: %s", strings.Join(known, ", "))
		}
		return
	}
}

// without returns the names that are not among others.
func without(names, others []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return slices.Contains(others, n) })
}
