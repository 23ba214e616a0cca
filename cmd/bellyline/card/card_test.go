package card

import (
	"strings"
	"testing"

	"bellyline/cavity"
	"bellyline/laminate"
)

// pour is a small invented pour with a name that would break a page.
func pour() *laminate.Pour {
	dose := laminate.HeatingDose{Additive: "salt", When: cavity.BeforeHeating, Measure: "1/8 cup", MassG: 36, Weigh: "36.0 g"}
	hot := laminate.HeatingDose{Additive: "flake", When: cavity.AfterHeating, Measure: "1/4 tsp", MassG: 0.43, Weigh: "0.4 g"}
	colour := func(name string) laminate.HeatingColour {
		return laminate.HeatingColour{Name: name, Cups: 1, CupsText: "1 cup", PlastisolG: 241, Doses: []laminate.HeatingDose{dose, hot}}
	}
	other := colour("back")
	other.Cups, other.CupsText = 2, "2 cups"
	return &laminate.Pour{
		BaitName: "<script>alert(1)</script>\x1b[2J", Mold: "test mold", Cavities: 2, Injector: "twin",
		Setup: []laminate.ColourPlan{
			{Name: "belly", Barrel: "left", Half: "plain half", PourC: 171, CeilingC: 190},
			{Name: "back", Barrel: "right", Half: "marked half", PourC: 171, CeilingC: 190},
		},
		Heatings: []laminate.Heating{
			{Times: 2, Shots: 5, Colours: []laminate.HeatingColour{colour("belly"), colour("back")}},
			{Times: 1, Shots: 3, Colours: []laminate.HeatingColour{colour("belly"), other}},
		},
		Line:     &laminate.LineResult{Course: laminate.Course{AskedShare: 0.4, DeliveredShare: 0.5}},
		Order:    laminate.Order{Baits: 26, Shots: 13},
		Warnings: []string{"a < b"},
	}
}

func write(t *testing.T, p *laminate.Pour) string {
	t.Helper()
	var page strings.Builder
	if err := Write(&page, p); err != nil {
		t.Fatal(err)
	}
	return page.String()
}

func TestCardHoldsEveryDose(t *testing.T) {
	page := write(t, pour())
	for want, count := range map[string]int{
		"36.0 g": 4, "0.4 g": 4, // two heatings of two colours, before and after
		"2 cups":                             1,
		"340 F (171 C)":                      2,
		"<b>374 F (190 C)</b>":               2,
		"Heatings 1 and 2, each":             2,
		"Heating 3":                          2,
		`<span class="box"></span>`:          13 + 3 + 3, // shots, heatings, heated again
		"belly to back":                      2,
		"40/60":                              1,
		`<b class="sum">50/50`:               1,
		"the left barrel&#39;s stream faces": 1,
	} {
		if got := strings.Count(page, want); got != count {
			t.Errorf("%q stands %d times, want %d", want, got, count)
		}
	}
}

func TestCardShowsEveryCaution(t *testing.T) {
	page := write(t, pour())
	for _, c := range laminate.Cautions() {
		words := strings.SplitN(c, "'", 2) // an apostrophe is escaped
		if !strings.Contains(page, words[len(words)-1]) {
			t.Errorf("the page does not say %q", c)
		}
	}
}

func TestCardTrustsNoName(t *testing.T) {
	page := write(t, pour())
	if strings.Contains(page, "<script") || strings.Contains(strings.ToLower(page), "<script") || strings.Contains(page, "\x1b") {
		t.Error("a name got into the page as markup")
	}
	if !strings.Contains(page, "a &lt; b") {
		t.Error("a warning is not escaped")
	}
}

// A page that fetches anything would show nothing on a bench without network.
func TestCardNeedsNoNetwork(t *testing.T) {
	page := write(t, pour())
	for _, bad := range []string{"http://", "https://", "src=", "@import", "<link"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
}
