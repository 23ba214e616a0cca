package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Sixty mutants, the first of the five thousand.
func TestMutants(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "bellyline")
	if out, err := exec.Command("go", "build", "-o", program, "bellyline/cmd/bellyline").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	found, err := hunt(t.Context(), program, dir, span{from: 0, n: 60, size: sizePlain})
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	found.print(&text)
	t.Log(text.String())
	if len(found.faults) > 0 || found.mutants != 60 || found.known == 0 || found.answered["size"] == 0 {
		t.Errorf("%d mutants, %d volumes known, %d faults", found.mutants, found.known, len(found.faults))
	}
}

// A mutant is the same each time, and all kinds of damage come up.
func TestMutantsAreTheSameEachTime(t *testing.T) {
	kinds := map[string]bool{}
	for n := range 400 {
		from := models()[n%5]
		first, again := drawMutant(from, n), drawMutant(from, n)
		if !bytes.Equal(first.file, again.file) {
			t.Fatalf("mutant %d differs", n)
		}
		for kind := range strings.SplitSeq(first.kind, "+") {
			kinds[kind] = true
		}
	}
	if len(kinds) != len(damages()) {
		t.Errorf("%d kinds of damage of %d in 400 mutants", len(kinds), len(damages()))
	}
}

// Answers that are wrong are found out: beyond the bound, more than the box, no number,
// colours that are not the whole, a cavity that is another.
func TestWrongAnswersAreFoundOut(t *testing.T) {
	m := &mutant{low: 100, high: 100}
	say := func(fill, mends string) string {
		return `{"models": [{"fill_volume_mm3": ` + fill + `, "fill_error_mm3": 0.5, "step_mm3": 0.25, "overlap_mm3": 0, "size_mm": [10, 5, 4], "mends": [` + mends + `]}]}`
	}
	for _, c := range []struct {
		stdout string
		wrong  bool
	}{
		{say("100", ""), false}, {say("100.75", ""), false}, {say("100.76", ""), true}, {say("99", ""), true},
		{say("109", `{"volume_mm3": 8}, {"volume_mm3": 1}`), false}, {say("110", `{"volume_mm3": 9}`), true},
		{say("null", ""), true}, {say("-1", `{"volume_mm3": 200}`), true}, {say("900", `{"volume_mm3": 600}`), true}, {"panic", true},
	} {
		if _, wrong := judgeMeasure([]byte(c.stdout), m); (wrong != "") != c.wrong {
			t.Errorf("%s: %q", c.stdout, wrong)
		}
	}
	held := answer{volumeMM3: 100}
	for said, want := range map[string]bool{
		`{"colours": [{"volume_mm3": 40, "share": 0.4}, {"volume_mm3": 60}]}`: false,
		`{"colours": [{"volume_mm3": 40, "share": 0.4}, {"volume_mm3": 61}]}`: true,
		`{"colours": [{"volume_mm3": 50, "share": 0.5}, {"volume_mm3": 50}]}`: true,
	} {
		if wrong := judgeSplit([]byte(said), held); (wrong != "") != want {
			t.Errorf("%s: %q", said, wrong)
		}
	}
	for said, want := range map[string]bool{`{"cavity_ml": 0.1, "cavities": 2}`: false, `{"cavity_ml": 0.2, "cavities": 2}`: true, `{"cavity_ml": 0.1}`: true} {
		if wrong := judgeSize([]byte(said), held); (wrong != "") != want {
			t.Errorf("%s: %q", said, wrong)
		}
	}
}
