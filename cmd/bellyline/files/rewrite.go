package files

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// Rewrite returns the text of a mold or shop file with some of its keys given other
// values, as YAML, and leaves all other lines as they are, remarks included. A value
// of several lines begins with a line break; an empty one takes the key out. A key
// that is not there yet is added at the end. Every error is an *Error.
func Rewrite(name string, text []byte, values map[string]string) ([]byte, error) {
	blocks, lines, err := blocksOf(name, string(text))
	if err != nil {
		return nil, err
	}
	var out strings.Builder
	at := 0
	for _, b := range blocks {
		value, ok := values[b.key]
		if !ok {
			continue
		}
		writeLines(&out, lines[at:b.from])
		out.WriteString(entry(b.key, value))
		at = b.to
	}
	writeLines(&out, lines[at:])
	var added []string
	for key, value := range values {
		if value != "" && !slices.ContainsFunc(blocks, func(b block) bool { return b.key == key }) {
			added = append(added, entry(key, value))
		}
	}
	slices.Sort(added)
	return []byte(out.String() + strings.Join(added, "")), nil
}

func writeLines(out *strings.Builder, lines []string) {
	for _, l := range lines {
		out.WriteString(l)
		if !strings.HasSuffix(l, "\n") {
			out.WriteString("\n")
		}
	}
}

func entry(key, value string) string {
	switch {
	case value == "":
		return ""
	case strings.HasPrefix(value, "\n"):
		return key + ":" + value + "\n"
	}
	return key + ": " + value + "\n"
}

// block is the lines of one key at the top of a file.
type block struct {
	key      string
	from, to int // lines, counted from 0; to is not in it
}

func blocksOf(name, text string) ([]block, []string, error) {
	tree, fault := parseYAML(name, text)
	if fault != nil {
		return nil, nil, fault
	}
	lines := strings.SplitAfter(text, "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	var pairs []*ast.MappingValueNode
	for _, d := range tree.Docs {
		switch m := d.Body.(type) {
		case *ast.MappingNode:
			if m.IsFlowStyle {
				return nil, nil, &Error{File: name, Msg: "its keys stand in braces; write each on a line of its own"}
			}
			pairs = append(pairs, m.Values...)
		case *ast.MappingValueNode:
			pairs = append(pairs, m)
		}
	}
	var blocks []block
	for i, p := range pairs {
		key, _ := scalar(p.Key)
		b := block{key: key, from: line(p.Key) - 1, to: len(lines)}
		if i+1 < len(pairs) {
			b.to = line(pairs[i+1].Key) - 1
		}
		if b.from < 0 || b.from >= b.to || b.to > len(lines) {
			return nil, nil, &Error{File: name, Line: b.from + 1, Key: key, Msg: "write each key on a line of its own"}
		}
		for b.to-1 > b.from && isRemark(lines[b.to-1]) { // it belongs to what follows
			b.to--
		}
		blocks = append(blocks, b)
	}
	return blocks, lines, nil
}

func isRemark(l string) bool {
	return strings.TrimSpace(l) == "" || l[0] == '#' || strings.TrimSpace(l) == "..."
}

// bareWord is text that YAML takes as it stands.
var bareWord = regexp.MustCompile(`^[\p{L}0-9+][\p{L}0-9 ._/%+*-]*$`)

// Scalar writes a text as one YAML value.
func Scalar(t string) string {
	if bareWord.MatchString(t) && strings.TrimSpace(t) == t && !slices.Contains(unclear[:], strings.ToLower(t)) {
		return t
	}
	return strconv.Quote(t)
}

// unclear are words that YAML takes for something else than text.
var unclear = [...]string{"null", "true", "false", "yes", "no", "on", "off"}
