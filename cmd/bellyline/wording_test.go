package main

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// texts are the program's texts for people over all example files.
func texts(t *testing.T) map[string]string {
	t.Helper()
	runs := [][]string{
		{"--help"}, {"measure", "--help"}, {"split", "--help"}, {"pour", "--help"},
		{"measure", example("paddletail", "bait.stl"), example("paddletail", "runner.stl"), example("clawcraw", "bait.stl"), "--density", "1.02"},
		{"measure", writeTetrahedron(t, 3), "--mend"},
		{"split", example("ringgrub", "bait.stl"), "--belly-share", "40/60", "--density", "1.02"},
		{"split", example("clawcraw", "bait.stl"), "--at", "0", "--at", "1"},
		{"stream", "--help"},
		{"size", "--help"}, {"size", example("ringgrub", "bait.stl"), "--barrel", "30", "--barrel", "8 fl oz", "--largest", "100 x 150 mm", "--shrink", "2.5%", "--metal-price", "9"},
		{"cool", "--help"}, {"cool", example("ringgrub", "bait.stl"), "--block", "2 lb", "--baits", "4", "--grid", "0.7"},
		{"cool", example("ringgrub", "bait.stl"), "--opens-after", "90s", "--grid", "1"},
		{"stream", example("paddletail", "bait.stl"), "--back-feed", "40/60", "--back-heat", "165C", "--belly-heat", "175C", "--stations", "12",
			"--push", "20 kg", "--bore", "1 1/4 in", "--runner", "8 x 60"},
		{"stream", example("clawcraw", "bait.stl"), "--flow", "0.5", "--viscosity-ratio", "0.05", "--stations", "12"},
		{"hollows", "--help"},
		{"hollows", example("shadmold", "plain-half.stl"), example("shadmold", "marked-half.stl")},
		{"hollows", example("shadmold", "marked-half.stl")},
		{"hollows", example("paddletail", "bait.stl"), "--bait", "--pull", "+x"},
		{"order", "--help"},
		{"order", example("order.yaml")},
		{"order", example("order.yaml"), "--compare", example("order-bigger.yaml")},
		{"pour", example("ringgrub", "mold.yaml"), "--left", "back=1 cup,belly=100 mL"},
		{"pour", example("weighed.yaml"), "--baits", "1"},
		{"pour", example("clawcraw", "laminate.yaml"), "--baits", "997"},
		{"pour", example("clawcraw", "mold.yaml"), "--baits", "10000"},
	}
	for _, mold := range moldFiles() {
		runs = append(runs, []string{"pour", mold})
	}
	all := map[string]string{}
	for _, args := range runs {
		all[strings.Join(args, " ")] = string(answer(t, exitDone, args...))
	}
	return all
}

// Rules of wording. What find matches is wrong.
var wordingRules = []struct {
	name string
	find *regexp.Regexp
	bad  string // what it must find
}{
	{"a spoon or cup in decimals", regexp.MustCompile(`\d[.,]\d+ ?(tsp|tbsp|cups?|teaspoons?|tablespoons?)\b`), "stir in 0.375 tsp of pearl"},
	{"a temperature without its letter", regexp.MustCompile(`\d ?(°|degrees?|deg)( [^FC]|[.,;]|$)`), "heat to 340 degrees."},
	{"a heading word followed by a bare number of degrees", regexp.MustCompile(`(?i)(heat|pour(ed)?|ceiling|past|melt)( at| to)? \d+([,.;)\n]| (or|and|then|when|before)\b)`), "never past 375, or it"},
	{"a number that is none", regexp.MustCompile(`NaN|Inf\b|%!|<nil>|\(nil\)`), "holds NaN mL"},
	{"a power of ten", regexp.MustCompile(`\d[eE][+-]?\d`), "known to 2.7e-11 mm3"},
	{"a control character", regexp.MustCompile(`[\x00-\x09\x0b-\x1f\x7f]`), "a\tb"},
	{"space at the end of a line", regexp.MustCompile(`(?m) $`), "back \nbelly"},
	{"one of something in the plural", regexp.MustCompile(`(^|[^\d/.+ -] ?|\n)\b1 (shots|baits|cavities|heatings|molds|times|pieces|shells|facets|drops)\b`), "fill the barrels 1 times"},
}

func TestWordingRulesFindWhatTheyForbid(t *testing.T) {
	for _, rule := range wordingRules {
		if !rule.find.MatchString(rule.bad) {
			t.Errorf("%s is not found in %q", rule.name, rule.bad)
		}
	}
}

// The rules hold for every text; it is printed once for all of them.
func TestTexts(t *testing.T) {
	all := texts(t)
	for name, check := range map[string]func(*testing.T, string, string){
		"wording": keepsToWording, "width": fitsAPage, "temperatures": hasItsLetters, "shares": printsSharesAsPairs,
	} {
		t.Run(name, func(t *testing.T) {
			for command, text := range all {
				check(t, command, text)
			}
		})
	}
}

func keepsToWording(t *testing.T, command, text string) {
	for _, rule := range wordingRules {
		for _, found := range rule.find.FindAllString(text, -1) {
			t.Errorf("%s prints %s: %q", command, rule.name, found)
		}
	}
}

// widest is what fits on one line of a page printed in 10 point type.
const widest = 100

func fitsAPage(t *testing.T, command, text string) {
	for line := range strings.Lines(text) {
		if n := len([]rune(strings.TrimSuffix(line, "\n"))); n > widest {
			t.Errorf("%s prints %d columns: %s", command, n, line)
		}
	}
}

var (
	heatPart  = regexp.MustCompile(`\n3  HEAT\n(?:  \* .*\n(?:    .*\n)*)*((?:  \S.*\n)*?)(?:  Heating|\n)`)
	anyNumber = regexp.MustCompile(`\d+(\.\d+)?( [FC]\b)?`)
	inF       = regexp.MustCompile(`(\d+) F \((\d+) C\)`)
)

// F read as C kills: in the part of the card that says how hot, every number has
// its letter, and both scales say the same.
func hasItsLetters(t *testing.T, command, text string) {
	if !strings.HasPrefix(command, "pour") || strings.Contains(command, "--help") {
		return
	}
	part := heatPart.FindStringSubmatch(text)
	if part == nil {
		t.Errorf("%s: no part of the card says how hot", command)
		return
	}
	for _, number := range anyNumber.FindAllStringSubmatch(part[1], -1) {
		if number[2] == "" {
			t.Errorf("%s: %q has no letter in\n%s", command, number[0], part[1])
		}
	}
	for line := range strings.Lines(part[1]) {
		pairs := inF.FindAllStringSubmatch(line, -1)
		if strings.Contains(line, "Apart") {
			continue // a difference: 9 F is 5 C
		}
		if len(pairs) != 2 {
			t.Errorf("%s: %q does not say in both scales how hot and how hot at most", command, line)
		}
		for _, pair := range pairs {
			f, _ := strconv.ParseFloat(pair[1], 64)
			c, _ := strconv.ParseFloat(pair[2], 64)
			if d := (f-32)/1.8 - c; d < -0.8 || d > 0.8 { // each rounded to whole degrees
				t.Errorf("%s: %s", command, pair[0])
			}
		}
	}
}

var drawnLine = regexp.MustCompile(`(?m)^  (drawn|delivered) +(\S+)`)

// Shares are printed like 60/40, and make 100 as printed.
func printsSharesAsPairs(t *testing.T, command, text string) {
	for _, found := range drawnLine.FindAllStringSubmatch(text, -1) {
		a, b, ok := strings.Cut(found[2], "/")
		x, errX := strconv.ParseFloat(a, 64)
		y, errY := strconv.ParseFloat(b, 64)
		if !ok || errX != nil || errY != nil || x+y != 100 {
			t.Errorf("%s: %s", command, found[0])
		}
	}
	if twoColours := strings.Contains(text, "WHERE THE LINE LANDS"); twoColours && len(drawnLine.FindAllString(text, -1)) != 2 {
		t.Errorf("%s does not print the line as drawn and as delivered", command)
	}
}
