package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"unicode/utf8"

	"bellyline/cmd/bellyline/plain"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// maxFileBytes is far above any mold or shop file (a hundred bytes a material);
// more is a mistake or an attack.
const maxFileBytes = 128 << 10

// deepest is how many levels may be opened by brackets, or by dashes in one line.
// The files need four. The YAML library's work grows with the square of it.
const deepest = 16

// openArgument is open for a name from the command line, where "-" is standard input.
func (r *reading) openArgument(path string) *section {
	if path != "-" || r.set != nil {
		return r.open(path)
	}
	data, err := readAll(os.Stdin, path)
	return r.told(r.parse(path, data, err))
}

// open reads a YAML file whose top is a mapping; nil where it cannot, which is told.
func (r *reading) open(path string) *section { return r.told(r.find(path)) }

// find is open whose error is the caller's to tell.
func (r *reading) find(path string) (*section, *Error) {
	if r.set != nil {
		data, ok := r.set[path]
		if !ok {
			return nil, &Error{File: path, Msg: "it was not given together with the files that name it; choose all of them at once"}
		}
		return r.parse(path, data, nil)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, &Error{File: path, Msg: plainPathError(err), Err: err}
	}
	defer f.Close()
	data, fault := readAll(f, path)
	return r.parse(path, data, fault)
}

// told records an error of find.
func (r *reading) told(s *section, err *Error) *section {
	if err != nil {
		r.faults = append(r.faults, err)
		return nil
	}
	return s
}

// readAll believes what it reads and not the size that the system states, which
// is 0 for a device.
func readAll(f *os.File, path string) ([]byte, *Error) {
	data, err := io.ReadAll(io.LimitReader(f, maxFileBytes+1))
	if info, errStat := f.Stat(); errStat == nil && info.IsDir() {
		return nil, &Error{File: path, Msg: "this is a folder, not a file", Err: err}
	}
	if err != nil {
		return nil, &Error{File: path, Msg: plainPathError(err), Err: err}
	}
	return data, nil
}

func plainPathError(err error) string {
	switch p, ok := errors.AsType[*fs.PathError](err); {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "the file may not be read: permission denied"
	case ok:
		return p.Err.Error()
	}
	return err.Error()
}

// checkText refuses what no mold or shop file is, before it is taken for YAML.
func checkText(path string, data []byte) *Error {
	fail := func(line int, msg string) *Error { return &Error{File: path, Line: line, Msg: msg} }
	head := bytes.ToLower(bytes.TrimSpace(data[:min(len(data), 512)]))
	switch {
	case bytes.HasPrefix(head, []byte("solid")) && bytes.Contains(head, []byte("facet")):
		return fail(0, "this is a model (STL), not a mold or shop file")
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return fail(0, "the text is stored as UTF-16; save it as UTF-8")
	case bytes.IndexByte(data, 0) >= 0:
		return fail(0, "this is not text; a mold or shop file is plain text with lines like \"cavities: 2\"")
	case len(data) > maxFileBytes:
		return fail(0, fmt.Sprintf("the file is too large for a mold or shop file (more than %d KiB); is it one?", maxFileBytes>>10))
	case len(head) == 0 && len(bytes.TrimSpace(data)) == 0:
		return fail(0, "the file is empty")
	}
	for rest, line := data, 1; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if r == utf8.RuneError && n == 1 {
			return fail(line, "a character here is not UTF-8; save the file as UTF-8")
		}
		if r == '\n' {
			line++
		}
		rest = rest[n:]
	}
	return nil
}

// parse makes a section of a file's text, unless reading it failed.
func (r *reading) parse(path string, data []byte, err *Error) (*section, *Error) {
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // the mark that some editors begin a file with
	if err := checkText(path, data); err != nil {
		return nil, err
	}
	tree, err := parseYAML(path, string(data))
	if err != nil {
		return nil, err
	}
	var bodies []ast.Node
	for _, d := range tree.Docs {
		if _, directive := d.Body.(*ast.DirectiveNode); d.Body != nil && !directive {
			bodies = append(bodies, d.Body)
		}
	}
	if len(bodies) == 0 {
		return nil, &Error{File: path, Msg: "the file holds only comments"}
	}
	if len(bodies) > 1 {
		return nil, &Error{File: path, Line: line(bodies[1]), Msg: "a second document begins here (---); one file describes one thing"}
	}
	doc := &document{file: path, reading: r}
	r.opened = append(r.opened, path)
	s := doc.section("", bodies[0])
	return s, nil
}

func parseYAML(path, text string) (*ast.File, *Error) {
	tokens := lexer.Tokenize(text)
	if t := tooDeep(tokens); t != nil {
		return nil, &Error{File: path, Line: t.Position.Line, Msg: "this is nested deeper than any mold or shop file"}
	}
	// Keys given twice are found by document.section, which says so in its own words.
	tree, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, syntaxError(path, err)
	}
	return tree, nil
}

// tooDeep returns the token that opens one level too many.
func tooDeep(tokens token.Tokens) *token.Token {
	open, dashes, line := 0, 0, 0
	for _, t := range tokens {
		if t.Position.Line != line {
			line, dashes = t.Position.Line, 0
		}
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			open++
		case token.SequenceEndType, token.MappingEndType:
			open--
		case token.SequenceEntryType, token.MappingKeyType:
			dashes++
		}
		if open > deepest || dashes > deepest {
			return t
		}
	}
	return nil
}

// reading is one file being read with all that it names. What is wrong is gathered, and
// reading goes on with zero values, so that callers need no checks.
type reading struct {
	set    Set  // files that came together; nil for files on the disk
	blind  bool // something is wrong with the shop file, so that nothing is judged by it
	opened []string
	faults []*Error
}

// document is one file of a reading.
type document struct {
	*reading
	file   string
	faulty bool
}

func (d *document) fail(line int, key, format string, args ...any) *Error {
	e := &Error{File: d.file, Line: line, Key: key, Msg: fmt.Sprintf(format, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.Err = err
		}
	}
	d.faulty = true
	d.faults = append(d.faults, e)
	return e
}

// line returns the line of a node, counted from 1.
func line(n ast.Node) int {
	if t := n.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line
	}
	return 0
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

// describe says what stands where something else was expected.
func describe(n ast.Node) string {
	switch n := n.(type) {
	case *ast.SequenceNode:
		if len(n.Values) == 0 {
			return "an empty list"
		}
		return "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "keys with values"
	case *ast.NullNode:
		return "nothing; fill it in or take the key out"
	case *ast.AliasNode, *ast.AnchorNode, *ast.TagNode:
		return "an anchor (&), alias (*) or tag (!), which is not read here; text that begins so needs quotes"
	}
	text, _ := scalar(n)
	return fmt.Sprintf("%q", plain.Name(text))
}
