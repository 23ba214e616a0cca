package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// example names a file of the invented shop.
func example(path ...string) string {
	return filepath.Join(append([]string{examples}, path...)...)
}

// moldFiles are all mold files of the invented shop.
func moldFiles() []string {
	return []string{
		example("paddletail", "mold.yaml"), example("ringgrub", "mold.yaml"),
		example("clawcraw", "mold.yaml"), example("clawcraw", "laminate.yaml"), example("weighed.yaml"),
		example("shadmold", "mold.yaml"),
	}
}

// answer runs the program, which must end with the given status.
func answer(t *testing.T, status int, args ...string) []byte {
	t.Helper()
	var out, talk bytes.Buffer
	if got := run(context.Background(), args, &out, &talk); got != status {
		t.Fatalf("bellyline %v: exit status %d, want %d: %s", args, got, status, talk.Bytes())
	}
	return out.Bytes()
}

// decode runs a command with --json and reads its one object.
func decode[T any](t *testing.T, status int, args ...string) T {
	t.Helper()
	var v T
	in := json.NewDecoder(bytes.NewReader(answer(t, status, append(args, "--json")...)))
	if err := in.Decode(&v); err != nil {
		t.Fatalf("bellyline %v --json: %v", args, err)
	}
	if in.More() {
		t.Fatalf("bellyline %v --json prints more than one value", args)
	}
	return v
}

// The shapes in testdata/contract are what programs rely on that read the JSON:
// more keys may come, none may go or change what it holds. Every key must be seen
// with a value at least once, or the shape was not tried.
func TestJSONHasTheShapeThatProgramsRelyOn(t *testing.T) {
	open := writeTetrahedron(t, 3)
	bait := example("ringgrub", "bait.stl")
	cases := map[string][][]string{
		"measure": {
			{"measure", example("paddletail", "bait.stl"), bait, "--density", "1.02"},
			{"measure", "--mend", open},
		},
		"split": {
			{"split", bait, "--belly-share", "40/60", "--density", "1.02", "--save", t.TempDir()},
			{"split", bait, "--at", "-1", "--at", "2"},
		},
		"hollows": {
			{"hollows", example("shadmold", "plain-half.stl"), example("shadmold", "marked-half.stl"), "--save", t.TempDir()},
		},
		"cool": {
			{"cool", bait, "--melt", "170C", "--mold", "40C", "--open", "60C", "--diffusivity", "0.1", "--grid", "0.7"},
		},
		"order": {
			{"order", example("order.yaml")},
		},
		"size": {
			{"size", bait, "--barrel", "120", "--colours", "2"},
			{"size", bait, "--barrel", "120", "--cavities", "2"},
		},
		"stream": {
			{"stream", bait, "--nose", "+x", "--back", "+z", "--back-feed", "0.3", "--viscosity-ratio", "1"},
		},
	}
	for _, mold := range moldFiles() {
		cases["pour"] = append(cases["pour"], []string{"pour", mold})
	}
	for command, runs := range cases {
		t.Run(command, func(t *testing.T) {
			shape := readShape(t, command)
			seen := map[string]bool{}
			for _, args := range runs {
				got := decode[map[string]any](t, exitDone, args...)
				if command == "pour" && got["line"] == nil {
					delete(got, "line") // one colour has no line
					compareShape(t, "", without(shape, "line"), got, seen)
					continue
				}
				compareShape(t, "", shape, got, seen)
			}
			for _, path := range leaves("", shape) {
				if !seen[path] {
					t.Errorf("%s was never seen with a value", path)
				}
			}
		})
	}
}

func readShape(t *testing.T, command string) map[string]any {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "contract", command+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var shape map[string]any
	if err := json.Unmarshal(text, &shape); err != nil {
		t.Fatal(err)
	}
	return shape
}

func without(shape map[string]any, key string) map[string]any {
	rest := map[string]any{}
	for k, v := range shape {
		if k != key {
			rest[k] = v
		}
	}
	return rest
}

// compareShape checks a decoded value against a shape: an object by its keys, a
// list of one by every element, a longer list by its length, a word by what it
// says. It notes the paths at which it saw a value.
func compareShape(t *testing.T, path string, shape, got any, seen map[string]bool) {
	t.Helper()
	switch shape := shape.(type) {
	case map[string]any:
		object, ok := got.(map[string]any)
		if !ok {
			t.Errorf("%s is %v, not an object", path, got)
			return
		}
		for key, inner := range shape {
			value, ok := object[key]
			if !ok {
				t.Errorf("%s.%s is missing", path, key)
				continue
			}
			compareShape(t, path+"."+key, inner, value, seen)
		}
	case []any:
		list, ok := got.([]any)
		if !ok || len(shape) > 1 && len(list) != len(shape) {
			t.Errorf("%s is %v, not a list like %v", path, got, shape)
			return
		}
		for _, value := range list {
			compareShape(t, path+"[]", shape[0], value, seen)
		}
	case string:
		if !holds(shape, got) {
			t.Errorf("%s is %v, not a %s", path, got, shape)
		}
		seen[path] = seen[path] || got != nil
	}
}

// holds tells whether a decoded value is what the word of a shape says.
func holds(word string, got any) bool {
	switch word {
	case "string":
		_, ok := got.(string)
		return ok
	case "bool":
		_, ok := got.(bool)
		return ok
	case "number":
		_, ok := got.(float64)
		return ok
	case "count":
		n, ok := got.(float64)
		return ok && n >= 0 && n == math.Trunc(n)
	case "number or null":
		return got == nil || holds("number", got)
	case "three numbers or null":
		list, ok := got.([]any)
		return got == nil || ok && len(list) == 3 && holds("number", list[0]) && holds("number", list[1]) && holds("number", list[2])
	}
	return false
}

// leaves lists the paths of a shape's words.
func leaves(path string, shape any) []string {
	var list []string
	switch shape := shape.(type) {
	case map[string]any:
		for key, inner := range shape {
			list = append(list, leaves(path+"."+key, inner)...)
		}
	case []any:
		list = leaves(path+"[]", shape[0])
	case string:
		list = []string{path}
	}
	return list
}

// writeTetrahedron writes the first faces of the tetrahedron cut off a corner by
// three edges of 30 mm, 30^3/6 = 4500 mm3, and returns the file's name.
func writeTetrahedron(t *testing.T, faces int) string {
	t.Helper()
	text := "solid corner\n"
	for _, f := range [][3]string{
		{"0 0 0", "0 30 0", "30 0 0"}, {"0 0 0", "30 0 0", "0 0 30"}, {"0 0 0", "0 0 30", "0 30 0"}, {"30 0 0", "0 30 0", "0 0 30"},
	}[:faces] {
		text += fmt.Sprintf("facet normal 0 0 0\nouter loop\nvertex %s\nvertex %s\nvertex %s\nendloop\nendfacet\n", f[0], f[1], f[2])
	}
	path := filepath.Join(t.TempDir(), "corner.stl")
	if err := os.WriteFile(path, []byte(text+"endsolid corner\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}
