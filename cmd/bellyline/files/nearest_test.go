package files

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The textbook pairs: kitten and sitting are three changes apart; ca and abc are
// three by optimal string alignment, which is what tells it from the unrestricted
// distance of two.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"runner", "runner", 0},
		{"runer", "runner", 1}, {"runnner", "runner", 1}, {"rumner", "runner", 1}, {"urnner", "runner", 1},
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"größe", "grösse", 2},
	} {
		if got := slips(c.a, c.b); got != c.want || slips(c.b, c.a) != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"fed", "feed", "mold", "model", "material", "vessel"}
	for _, c := range []struct{ misspelt, want string }{
		{"fede", "fed"}, {"fedd", "fed"}, {"MOLD", "mold"}, {"mdoel", "model"}, {"matreal", "material"}, {"vesel", "vessel"},
		{"f", ""}, {"molten", ""}, {"vise", ""}, {"", ""},
	} {
		if got := nearest(c.misspelt, keys); got != c.want {
			t.Errorf("%q: %q, want %q", c.misspelt, got, c.want)
		}
	}
}

// A list of choices stays short enough to be read.
func TestChoicesAreCut(t *testing.T) {
	var many []string
	for c := 'a'; c <= 'z'; c++ {
		many = append(many, string(c)+"-material")
	}
	if got, want := choices("x", many), "there is: a-material, b-material, c-material, d-material, e-material, f-material, g-material, h-material, i-material, j-material, k-material, l-material, ..."; got != want {
		t.Errorf("%s", got)
	}
	if got := choices("x", nil); got != "there is: none" {
		t.Errorf("%s", got)
	}
}

// vocabulary holds every key of both files; a name that the shop chose is none.
var vocabulary = strings.Fields(`shop money room apart fed materials density expansion pour ceiling price
	additives loose true when drop injectors drive barrels bore holds keeps vessels fill
	bait mold model unit back nose cavities feed plug sprue runner gates volume length diameter to width depth count
	injector vessel line belly_share colours name material barrel half mix order`)

// No misspelt key is silently left out: at every place where a key stands in the
// good files, a wrong last letter is answered with that word and its line.
func TestEveryMisspeltKeyIsNamed(t *testing.T) {
	tried := map[string]bool{}
	for file, good := range map[string]string{"shop.yaml": goodShop, "mold.yaml": goodMold} {
		for _, at := range regexp.MustCompile(`\b[a-z_]+:`).FindAllStringIndex(good, -1) {
			key := good[at[0] : at[1]-1]
			if !slices.Contains(vocabulary, key) || key == "barrel" && file == "shop.yaml" {
				continue // there, barrel is the name of one
			}
			tried[key] = true
			wrong := key[:len(key)-1] + "q"
			texts := map[string]string{"shop.yaml": goodShop, "mold.yaml": goodMold}
			texts[file] = good[:at[0]] + wrong + good[at[1]-1:]
			dir := folder(t, texts)
			_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
			if err == nil {
				t.Errorf("%s in %s is taken for nothing", wrong, file)
				continue
			}
			line := 1 + strings.Count(good[:at[0]], "\n")
			if text := inFolder(dir, err).Error(); !strings.Contains(text, wrong) || !strings.HasPrefix(text, file+":") {
				t.Errorf("%s in line %d of %s: %s", wrong, line, file, text)
			}
		}
	}
	for _, key := range vocabulary {
		if !tried[key] {
			t.Errorf("the good files have no %s", key)
		}
	}
}
