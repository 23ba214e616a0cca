package files

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// Error is what is wrong with a file and where.
type Error struct {
	File string
	Line int    // counted from 1; 0 when the whole file is meant
	Key  string // feed.runner.length
	Msg  string // what is wrong and what to do
	Err  error  // the cause, if another package found it
}

func (e *Error) Error() string {
	where := e.File
	if e.Line > 0 {
		where = fmt.Sprintf("%s:%d", e.File, e.Line)
	}
	if e.Key != "" {
		where += ": " + e.Key
	}
	return where + ": " + e.Msg
}

func (e *Error) Unwrap() error { return e.Err }

// maxFileBytes is far above any mold file; more is a mistake or an attack.
const maxFileBytes = 1 << 20

// section is one mapping of a file being read. The first error sticks in the
// shared document; reading goes on with zero values, so callers need no checks.
type section struct {
	doc    *document
	key    string // dotted path of this mapping
	line   int
	values map[string]ast.Node
	order  []string
	asked  []string
}

type document struct {
	file string
	err  error
}

func (d *document) fail(line int, key, format string, args ...any) {
	if d.err != nil {
		return
	}
	e := &Error{File: d.file, Line: line, Key: key, Msg: fmt.Sprintf(format, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.Err = err
		}
	}
	d.err = e
}

// open reads a YAML file whose top is a mapping.
func open(path string) (*section, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, &Error{File: path, Msg: plainPathError(err), Err: err}
	}
	if info.Size() > maxFileBytes {
		return nil, &Error{File: path, Msg: fmt.Sprintf("%d bytes is too large for a mold or shop file; is it one?", info.Size())}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, &Error{File: path, Msg: plainPathError(err), Err: err}
	}
	return parse(path, data)
}

func plainPathError(err error) string {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

func parse(path string, data []byte) (*section, error) {
	doc := &document{file: path}
	if strings.TrimSpace(string(data)) == "" {
		return nil, &Error{File: path, Msg: "the file is empty"}
	}
	tree, err := parser.ParseBytes(data, 0)
	if err != nil {
		return nil, syntaxError(path, err)
	}
	var bodies []ast.Node
	for _, d := range tree.Docs {
		if d.Body != nil {
			bodies = append(bodies, d.Body)
		}
	}
	if len(bodies) == 0 {
		return nil, &Error{File: path, Msg: "the file holds only comments"}
	}
	if len(bodies) > 1 {
		return nil, &Error{File: path, Line: line(bodies[1]), Msg: "a second document begins here (---); one file describes one thing"}
	}
	s := doc.section("", bodies[0])
	if doc.err != nil {
		return nil, doc.err
	}
	return s, nil
}

// syntaxError turns the YAML library's error, which draws a picture of the
// place, into one line.
func syntaxError(path string, err error) error {
	var y yaml.Error
	if errors.As(err, &y) && y.GetToken() != nil {
		return &Error{File: path, Line: y.GetToken().Position.Line, Msg: "not YAML: " + y.GetMessage(), Err: err}
	}
	first, _, _ := strings.Cut(err.Error(), "\n")
	return &Error{File: path, Msg: "not YAML: " + first, Err: err}
}

func line(n ast.Node) int {
	if t := n.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line
	}
	return 0
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
		d.fail(s.line, key, "expected keys with values (name: value), found %s", describe(n))
		return s
	}
	for i, p := range pairs {
		name, ok := scalar(p.Key)
		if !ok || p.Key.IsMergeKey() {
			d.fail(line(p.Key), key, "a key is a plain word here; anchors, aliases and merged maps are not read")
			return s
		}
		if _, twice := s.values[name]; twice {
			d.fail(line(p.Key), s.sub(name), "the key is given twice")
			return s
		}
		if i == 0 {
			s.line = line(p.Key)
		}
		s.values[name] = p.Value
		s.order = append(s.order, name)
	}
	return s
}

func describe(n ast.Node) string {
	switch n.(type) {
	case *ast.SequenceNode:
		return "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "keys with values"
	case *ast.NullNode:
		return "nothing"
	case *ast.AliasNode, *ast.AnchorNode, *ast.TagNode:
		return "an anchor, alias or tag, which is not read here"
	}
	text, _ := scalar(n)
	return fmt.Sprintf("%q", text)
}

// scalar returns the text of a plain value as it was written.
func scalar(n ast.Node) (string, bool) {
	switch v := n.(type) {
	case *ast.StringNode:
		return v.Value, true
	case *ast.LiteralNode:
		return strings.TrimSpace(v.Value.Value), true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	return "", false
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

// text returns a scalar; missing is an error when it is required.
func (s *section) text(name string, required bool) (string, bool) {
	if !s.has(name) {
		if required {
			s.fail("", "the key %q is missing", name)
		}
		return "", false
	}
	t, ok := scalar(s.values[name])
	if !ok {
		s.fail(name, "expected one value, found %s", describe(s.values[name]))
		return "", false
	}
	if strings.TrimSpace(t) == "" {
		s.fail(name, "the value is empty")
		return "", false
	}
	return t, true
}

// section returns the mapping under a key; nil when it is not there.
func (s *section) section(name string, required bool) *section {
	if !s.has(name) {
		if required {
			s.fail("", "the key %q is missing", name)
		}
		return nil
	}
	return s.doc.section(s.sub(name), s.values[name])
}

// list returns the mappings of a list under a key, in order.
func (s *section) list(name string) []*section {
	if !s.has(name) {
		s.fail("", "the key %q is missing", name)
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

// done reports the first key that nobody asked for, with those that exist.
func (s *section) done() {
	for _, name := range s.order {
		if slices.Contains(s.asked, name) {
			continue
		}
		known := slices.Clone(s.asked)
		slices.Sort(known)
		s.doc.fail(line(s.values[name]), s.sub(name), "unknown key; known here: %s", strings.Join(slices.Compact(known), ", "))
		return
	}
}
