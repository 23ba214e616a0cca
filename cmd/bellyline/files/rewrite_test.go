package files

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bellyline/laminate"
)

// Every line but those of the changed keys stays, remarks too, and the file reads
// as what was asked for.
func TestRewriteChangesNothingElse(t *testing.T) {
	folder := filepath.Join("..", "..", "..", "examples", "paddletail")
	text, err := os.ReadFile(filepath.Join(folder, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	shop, err := os.ReadFile(filepath.Join(folder, "..", "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	line := laminate.Line{Boundary: laminate.Level{HeightMM: -1.25}, ByPlace: true}
	got, err := Rewrite("mold.yaml", text, map[string]string{
		"line": LineText(line), "order": "77", "injector": "hand pair", "fed": "60 %",
		"colours": ColoursText([]ColourText{
			{Name: "belly", Material: "soft", Barrel: "right", Half: "plain half", Pour: "345F", Mix: []DoseText{{"salt", "1/4 cup"}}},
			{Name: "back: dark", Material: "tough", Barrel: "left", Half: "marked half"},
		}),
	})
	if err != nil {
		t.Fatal(err)
	}
	m, err := Set{"mold.yaml": got, "shop.yaml": shop}.ReadMold("mold.yaml")
	if err != nil {
		t.Fatalf("%v in\n%s", err, got)
	}
	if !m.Lines[0].Same(line) || m.Baits != 77 || m.Injector.Name != "hand pair" || m.Fed != 0.6 || m.Injector.Barrels[0].Name != "right" {
		t.Errorf("read back: line %v, %d baits, %q, fed %g", m.Lines, m.Baits, m.Injector.Name, m.Fed)
	}
	if c := m.Colours[1]; c.Name != "back: dark" || c.Mix.Plastisol.Name != "tough" || len(c.Mix.Doses) != 0 {
		t.Errorf("read back: %+v", c)
	}
	// 345 F is (345-32)*5/9 = 173.89 C.
	if f := m.Colours[0].Mix.Plastisol.Pour.F(); f < 344.999 || f > 345.001 {
		t.Errorf("belly is poured at %g F", f)
	}
	var kept []string
	for l := range strings.Lines(string(text)) {
		if strings.HasPrefix(l, "colours:") {
			break
		}
		if !strings.HasPrefix(l, "line:") && !strings.HasPrefix(l, "injector:") {
			kept = append(kept, l)
		}
	}
	for _, l := range kept {
		if !strings.Contains(string(got), l) {
			t.Errorf("the line %q is gone", l)
		}
	}
}

// Text that YAML would take for something else comes back as it was.
func TestScalarsComeBack(t *testing.T) {
	for _, text := range []string{"belly", "40/60", "340F", "1/4 + 1/8 tsp", "no", "null", "a: b", "#1", "- x", `he said "salt"`, "{x}", "Öl", "it's", "60 %", "*", "&a"} {
		if got, _ := parsed(t, "x.yaml", "key: "+Scalar(text)+"\n").text("key", longestValue); got != text {
			t.Errorf("%q came back as %q", text, got)
		}
	}
}

func TestRewriteRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"{bait: a, mold: b}": "mold.yaml: its keys stand in braces; write each on a line of its own",
		"bait: [":            "mold.yaml:1: ",
	} {
		if _, err := Rewrite("mold.yaml", []byte(text), map[string]string{"bait": "x"}); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// Files that came together find each other by their bare names, and nothing else.
func TestSetLooksAtNoDisk(t *testing.T) {
	_, err := Set{"mold.yaml": []byte("shop: ../../../examples/shop.yaml\n")}.ReadMold("mold.yaml")
	want := "mold.yaml:1: shop: shop.yaml: it was not given together with the files that name it; choose all of them at once"
	if err == nil {
		t.Fatal("a shop file on the disk was read")
	}
	if first, _, _ := strings.Cut(err.Error(), "\n"); first != want {
		t.Errorf("%s, want %s", first, want)
	}
}
