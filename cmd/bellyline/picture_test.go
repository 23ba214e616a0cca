package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// coordinate is a number of a picture.
var coordinate = regexp.MustCompile(`-?\d+(\.\d+)?`)

// The picture in README.md is that of the example's card. Processors that fuse
// multiplication and addition may move a point by the last digit printed.
func TestPictureOfTheReadme(t *testing.T) {
	const lastDigit = 0.011
	file := example("paddletail", "line.svg")
	page := filepath.Join(t.TempDir(), "card.html")
	answer(t, exitDone, "pour", example("paddletail", "mold.yaml"), "--html", page)
	html, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	from := strings.Index(string(html), `<svg xmlns=`)
	if from < 0 {
		t.Fatal("the card has no picture")
	}
	got, _, _ := strings.Cut(string(html)[from:], "</svg>")
	got += "</svg>\n"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := string(text)
	if coordinate.ReplaceAllString(got, "#") != coordinate.ReplaceAllString(want, "#") {
		t.Fatal("the card's picture has other parts; go test ./cmd/bellyline -run Picture -update")
	}
	numbers := coordinate.FindAllString(got, -1)
	for i, w := range coordinate.FindAllString(want, -1) {
		a, errA := strconv.ParseFloat(numbers[i], 64)
		b, errB := strconv.ParseFloat(w, 64)
		if errA != nil || errB != nil || math.Abs(a-b) > lastDigit {
			t.Fatalf("number %d is %s, the file has %s; go test ./cmd/bellyline -run Picture -update", i, numbers[i], w)
		}
	}
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(readme), "(examples/paddletail/line.svg)") {
		t.Error("README.md does not show it")
	}
}

// README.md is a page to be read at once.
func TestReadmeIsShort(t *testing.T) {
	const most = 1200
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(strings.Fields(string(text))); n >= most {
		t.Errorf("%d words, want fewer than %d", n, most)
	}
}

// What README.md shows of the example's card is what the program prints.
func TestCardOfTheReadme(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, shown, _ := strings.Cut(string(text), "```text\n")
	shown, _, _ = strings.Cut(shown, "```")
	card := string(answer(t, exitDone, "pour", example("paddletail", "mold.yaml")))
	lines := 0
	for line := range strings.Lines(shown) {
		if lines++; !strings.Contains(card, line) {
			t.Errorf("the card has no line %q", line)
		}
	}
	if lines < 5 {
		t.Errorf("README.md shows %d lines of a card", lines)
	}
}
