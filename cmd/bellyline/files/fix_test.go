package files

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

var listIndex = regexp.MustCompile(`\[\d+\]`)

// faults are the single errors of a reading.
func faults(err error) Errors {
	if all, ok := errors.AsType[Errors](err); ok {
		return all
	}
	if one, ok := err.(*Error); ok {
		return Errors{one}
	}
	return nil
}

// apply changes a file as a Fix says; false when it says nothing.
func apply(t testing.TB, text string, e *Error) (string, bool) {
	t.Helper()
	var top any
	if yaml.Unmarshal([]byte(text), &top) != nil || e.Fix == (Fix{}) {
		return text, false
	}
	at, _ := top.(tree)
	path := strings.Split(e.Key, ".")
	if e.Fix.Add == "" {
		for _, name := range path[:len(path)-1] {
			at = child(at, name)
		}
	} else if e.Key != "" {
		for _, name := range path {
			at = child(at, name)
		}
	}
	if at == nil {
		t.Fatalf("%v: there is no such place in\n%s", e, text)
	}
	last := path[len(path)-1]
	if _, there := at[listIndex.ReplaceAllString(last, "")]; !there && e.Fix.Add == "" {
		return text, false // its name cannot be printed
	}
	switch {
	case e.Fix.Add != "":
		for k, v := range value(t, e.Fix.Add).(tree) {
			at[k] = v
		}
	case e.Fix.Rename != "":
		at[e.Fix.Rename] = at[last]
		delete(at, last)
	case e.Fix.Remove:
		delete(at, last)
	default:
		name, index := listIndex.ReplaceAllString(last, ""), listIndex.FindString(last)
		if index != "" {
			at[name].([]any)[index[1]-'1'] = value(t, e.Fix.Value)
		} else {
			at[name] = value(t, e.Fix.Value)
		}
	}
	out, err := yaml.Marshal(top)
	if err != nil {
		t.Fatal(err)
	}
	return string(out), true
}

// child is what stands under a name, like colours[1].
func child(at tree, name string) tree {
	v := at[listIndex.ReplaceAllString(name, "")]
	if index := listIndex.FindString(name); index != "" {
		list, _ := v.([]any)
		if i := int(index[1] - '1'); i < len(list) {
			v = list[i]
		}
	}
	m, _ := v.(tree)
	return m
}

// A fix that is suggested is one that the reader takes: applied, its error is gone, and
// once all are applied the file is read, or what is left are mistakes that only people mend.
func TestSuggestedFixesAreTaken(t *testing.T) {
	tried := 0
	for file, list := range map[string][]bad{"mold.yaml": badMolds, "shop.yaml": badShops} {
		for _, b := range list {
			t.Run(file+"/"+b.name, func(t *testing.T) {
				texts := map[string]string{"shop.yaml": goodShop, "mold.yaml": goodMold}
				texts[file] = replaceOnce(t, texts[file], b.old, b.new)
				for range 4 { // a fix may show what it hid
					err := readTexts(t, texts)
					var before []string
					changed := false
					for _, e := range faults(err) {
						name := filepath.Base(e.File)
						text, ok := apply(t, texts[name], e)
						if !ok {
							continue
						}
						tried++
						texts[name], changed = text, true
						before = append(before, e.Key+": "+e.Msg)
						break // others may be gone with it, or have moved
					}
					if !changed {
						return
					}
					for _, e := range faults(readTexts(t, texts)) {
						if slices.Contains(before, e.Key+": "+e.Msg) {
							t.Fatalf("%v is told again after its fix %+v", e, e.Fix)
						}
					}
				}
			})
		}
	}
	if tried < 100 {
		t.Errorf("only %d fixes were tried", tried)
	}
}

func readTexts(t testing.TB, texts map[string]string) error {
	dir := folder(t, texts)
	_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	os.RemoveAll(dir)
	return err
}

// Mistakes in a mold file and its shop file are all told in one run, each with its line,
// and none that follows from another.
func TestSeveralMistakes(t *testing.T) {
	mold := goodMold
	for old, by := range map[string]string{"cavities: 2": "cavities: two", "unit: in": "unt: in", "length: 20 mm": "length: 20", "salt: 1/8 cup": "salt: 1/8", "bait: 4 in paddle tail\n": ""} {
		mold = replaceOnce(t, mold, old, by)
	}
	shop := replaceOnce(t, replaceOnce(t, goodShop, "room: 68F", "room: 68"), "  pint cup: {holds: 2 cups}", "  pint cup: {hods: 2 cups}")
	for _, c := range []struct {
		shop string
		want []string
	}{
		{goodShop, []string{
			`mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail`,
			`mold.yaml:4: unt: unknown key; did you mean unit?`,
			`mold.yaml:7: cavities: "two" is not a whole number; write it like 2`,
			`mold.yaml:10: feed.sprue.length: length "20": no unit; write it like 60 mm or 3/8 in`,
			`mold.yaml:22: colours[1].mix.salt: amount "1/8": no unit; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`,
		}},
		{shop, []string{ // what goes by the shop file waits until that is mended
			`mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail`,
			`mold.yaml:4: unt: unknown key; did you mean unit?`,
			`mold.yaml:7: cavities: "two" is not a whole number; write it like 2`,
			`mold.yaml:10: feed.sprue.length: length "20": no unit; write it like 60 mm or 3/8 in`,
			`shop.yaml:3: room: temperature "68": a temperature needs its letter, F or C; write it like 70F or 21C`,
			`shop.yaml:32: vessels.pint cup.hods: unknown key; did you mean holds?`,
		}},
	} {
		dir := folder(t, map[string]string{"shop.yaml": c.shop, "mold.yaml": mold})
		_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
		bad{want: strings.Join(c.want, "\n")}.check(t, inFolder(dir, err))
	}
}
