package main

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"bellyline/laminate"
)

// admeshSays are figures of the program admesh for one file.
type admeshSays struct {
	facets, open, parts, repaired, normals, volume float64
}

var admeshFigures = map[string]*regexp.Regexp{
	"facets":   regexp.MustCompile(`Number of facets +: +(\d+)`),
	"open":     regexp.MustCompile(`Total disconnected facets +: +(\d+)`),
	"parts":    regexp.MustCompile(`Number of parts +: +(\d+)`),
	"reversed": regexp.MustCompile(`Facets reversed +: +(\d+)`),
	"backward": regexp.MustCompile(`Backwards edges +: +(\d+)`),
	"removed":  regexp.MustCompile(`Facets removed +: +(\d+)`),
	"added":    regexp.MustCompile(`Facets added +: +(\d+)`),
	"normals":  regexp.MustCompile(`Normals fixed +: +(\d+)`),
	"volume":   regexp.MustCompile(`Volume +: +([-\d.]+)`),
}

// askAdmesh lets admesh check a file. Without the program the test is skipped,
// except where CI=true promises that nothing is skipped.
func askAdmesh(t *testing.T, file string) admeshSays {
	t.Helper()
	program, err := exec.LookPath("admesh")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("admesh is not installed")
		}
		t.Skip("admesh is not installed")
	}
	out, err := exec.Command(program, file).CombinedOutput()
	if err != nil {
		t.Fatalf("admesh %s: %v\n%s", file, err, out)
	}
	n := map[string]float64{}
	for name, pattern := range admeshFigures {
		found := pattern.FindSubmatch(out)
		if found == nil {
			t.Fatalf("admesh does not say %q of %s:\n%s", name, file, out)
		}
		if n[name], err = strconv.ParseFloat(string(found[1]), 64); err != nil {
			t.Fatal(err)
		}
	}
	return admeshSays{
		facets: n["facets"], open: n["open"], parts: n["parts"], volume: n["volume"], normals: n["normals"],
		repaired: n["reversed"] + n["backward"] + n["removed"] + n["added"] + n["normals"],
	}
}

// admesh adds volumes up in float32: 2^-24 of the volume for each of some
// thousand facets at worst, much less as signs differ.
const admeshVolume = 1e-5

func TestAdmeshAgreesOnTheExamples(t *testing.T) {
	for _, file := range []string{example("paddletail", "bait.stl"), example("paddletail", "runner.stl"), example("ringgrub", "bait.stl"), example("clawcraw", "bait.stl")} {
		got, want := measureOne(t, file), askAdmesh(t, file)
		if want.open != 0 || want.repaired != 0 {
			t.Errorf("%s: admesh finds %g facets open, repairs %g", file, want.open, want.repaired)
		}
		if float64(got.Triangles) != want.facets || float64(got.Shells) != want.parts {
			t.Errorf("%s: %d facets in %d shells, admesh finds %g in %g", file, got.Triangles, got.Shells, want.facets, want.parts)
		}
		if math.Abs(*got.VolumeMM3-want.volume) > admeshVolume*want.volume {
			t.Errorf("%s: %g mm3, admesh finds %g", file, *got.VolumeMM3, want.volume)
		}
	}
}

// What --save writes is closed and sound for another program, and holds what was
// printed; where parts overlap it holds the overlap once more.
func TestAdmeshFindsSavedColoursClosed(t *testing.T) {
	for _, bait := range []string{"paddletail", "ringgrub", "clawcraw"} {
		file := example(bait, "bait.stl")
		whole := measureOne(t, file)
		for _, line := range [][]string{{"--belly-share", "40/60"}, {"--at", "0"}, {"--at", "-2", "--at", "3"}, {"--at", "40", "--back", "1,0.2,0.1"}} {
			args := append([]string{"split", file, "--save", filepath.Join(t.TempDir(), "colours")}, line...)
			sum := 0.0
			for _, c := range decode[laminate.Split](t, exitDone, args...).Colours {
				says := askAdmesh(t, c.File)
				if says.open != 0 || says.repaired != 0 {
					t.Errorf("%s %v, %s: admesh finds %g facets open, repairs %g", bait, line, c.Name, says.open, says.repaired)
				}
				if over := says.volume - c.VolumeMM3; over < -admeshVolume*says.volume || over > *whole.OverlapMM3+admeshVolume*says.volume {
					t.Errorf("%s %v, %s: %g mm3, admesh finds %g", bait, line, c.Name, c.VolumeMM3, says.volume)
				}
				sum += says.volume
			}
			if math.Abs(sum-*whole.VolumeMM3) > admeshVolume*sum {
				t.Errorf("%s %v: admesh finds %g mm3 in all colours, the whole is %g", bait, line, sum, *whole.VolumeMM3)
			}
		}
	}
}

// The same for lines of every kind. Facets cut at the corners of a line are slivers
// here and there, whose normals admesh, in float32, reckons otherwise than is stored
// (it says so by the normals it fixes); what closes a body does not hang on them.
func TestAdmeshFindsColoursOfEveryLineClosed(t *testing.T) {
	file := example("ringgrub", "bait.stl")
	for _, line := range []string{
		"{kind: tilted, tilt: 5 deg, roll: -4 deg, belly_share: 40/60}",
		"{kind: drawn, curve: smooth, points: [{along: 10 mm, height: -3 mm}, {along: 40 mm, height: -2 mm}, {along: 60 mm, height: 3 mm}]}",
		"{kind: crosswise, tail_share: 70/30}",
		"{kind: stripe, width: 4 mm, floor: 2 mm}",
		"{kind: core, depth: 2 mm, step: 1 mm}",
	} {
		folder := t.TempDir()
		name := filepath.Join(folder, "line.yaml")
		if err := os.WriteFile(name, []byte(line), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, c := range decode[laminate.Split](t, exitDone, "split", file, "--line", name, "--save", folder).Colours {
			says := askAdmesh(t, c.File)
			if says.open != 0 || says.repaired != says.normals {
				t.Errorf("%s, %s: admesh finds %g facets open, repairs %g", line, c.Name, says.open, says.repaired-says.normals)
			}
			if math.Abs(says.volume-c.VolumeMM3) > admeshVolume*says.volume {
				t.Errorf("%s, %s: %g mm3, admesh finds %g", line, c.Name, c.VolumeMM3, says.volume)
			}
		}
	}
}
