package files

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whole files that are not what they should be.
var badTexts = []struct{ name, text, want string }{
	{"empty", "",
		`mold.yaml: the file is empty`},
	{"blank", " \n\t\r\n \n",
		`mold.yaml: the file is empty`},
	{"only comments", "# nothing\n  # yet\n",
		`mold.yaml: the file holds only comments`},
	{"only a byte order mark", "\ufeff",
		`mold.yaml: the file is empty`},
	{"a word", "mold\n",
		`mold.yaml:1: expected lines like key: value (a space follows the colon), found "mold"`},
	{"a list", "- bait: x\n- mold: y\n",
		`mold.yaml:1: expected lines like key: value (a space follows the colon), found a list`},
	{"two documents", goodMold + "---\n" + goodMold,
		`mold.yaml:28: a second document begins here (---); one file describes one thing`},
	{"a shop file", goodShop,
		`mold.yaml: this is a shop file; give a mold file, which names its shop file`},
	{"no colon at all", "bait paddle tail\nmold twin\n",
		`mold.yaml:1: expected lines like key: value (a space follows the colon), found "bait paddle tail mold twin"`},
	{"no space after the first colon", "bait:paddle tail\nmold: twin\n",
		`mold.yaml:1: cannot be read: every line is a key, a colon, a space and a value, like cavities: 2`},
	{"a model in ASCII", "solid bait\n  facet normal 0 0 1\n    outer loop\n",
		`mold.yaml: this is a model (STL), not a mold or shop file`},
	{"a model in binary", "COLOR=" + strings.Repeat("\x00", 78) + "\x01\x00\x00\x00\x1b[2J",
		`mold.yaml: this is not text; a mold or shop file is plain text with lines like "cavities: 2"`},
	{"a large model in binary", strings.Repeat("\x00\x7f", 1<<20),
		`mold.yaml: this is not text; a mold or shop file is plain text with lines like "cavities: 2"`},
	{"a picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR",
		`mold.yaml: this is not text; a mold or shop file is plain text with lines like "cavities: 2"`},
	{"UTF-16", "\xff\xfeb\x00a\x00i\x00t\x00",
		`mold.yaml: the text is stored as UTF-16; save it as UTF-8`},
	{"UTF-16, the other way", "\xfe\xff\x00b\x00a",
		`mold.yaml: the text is stored as UTF-16; save it as UTF-8`},
	{"Latin-1", "shop: shop.yaml\nbait: caf\xe9 craw\n",
		`mold.yaml:2: a character here is not UTF-8; save the file as UTF-8`},
	{"more than a megabyte", "shop: shop.yaml\n" + strings.Repeat("# a line of remarks\n", 60_000),
		`mold.yaml: the file is too large for a mold or shop file (more than 128 KiB); is it one?`},
	{"deep in brackets", "a: " + strings.Repeat("[", 50_000),
		`mold.yaml:1: this is nested deeper than any mold or shop file`},
	{"deep in braces", "a: " + strings.Repeat("{a: ", 20_000),
		`mold.yaml:1: this is nested deeper than any mold or shop file`},
	{"deep in dashes", strings.Repeat("- ", 50_000) + "a",
		`mold.yaml:1: this is nested deeper than any mold or shop file`},
	{"deep in questions", strings.Repeat("? ", 50_000) + "a",
		`mold.yaml:1: this is nested deeper than any mold or shop file`},
	{"deep in lines", deepLines(400),
		`mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup
mold.yaml:2: shop: expected one value, found keys with values; write it like ../shop.yaml`},
	{"an endless value", "shop: \"" + strings.Repeat("x", 100_000) + "\"\n",
		`mold.yaml:1: shop: the value is 100000 characters long; was a quotation mark not closed?
mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup`},
	{"an endless name", strings.Repeat("x", 100_000) + ": 1\n",
		`mold.yaml:1: xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings
mold.yaml:1: the key "shop" is missing (the shop file); add it, like shop: ../shop.yaml
mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup`},
	{"aliases of aliases", "a: &a [x, x]\nb: &b [*a, *a]\nshop: [*b, *b]\n",
		`mold.yaml:1: a: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings
mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup
mold.yaml:2: b: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings
mold.yaml:3: shop: expected one value, found a list; write it like ../shop.yaml`},
	{"a key that is a list", "? [a, b]\n: c\n",
		`mold.yaml:2: cannot be read: found an invalid key for this map`},
	{"escapes", "\"\\e]0;owned\\a\": \"\\e[2J\"\nshop: [\"\\e[31m\"]\n",
		`mold.yaml:1: ]0;owned: unknown key; known here: back, bait, cavities, colours, fed, feed, halves, hook, injector, line, model, mold, nose, notes, opens_after, order, pack, plungers_apart, shop, sides, streams, unit, vessel, water, weighed, weighings
mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup
mold.yaml:2: shop: expected one value, found a list; write it like ../shop.yaml`},
	{"escapes in what cannot be read", "shop: @\x1b[31m\u202ered\n",
		`mold.yaml:1: cannot be read: text that begins with this character needs quotes`},
	{"an unknown tag", "!!binary x: y\n",
		`mold.yaml:1: a key is a plain word here; anchors, aliases and merged keys (<<) are not read
mold.yaml:1: the key "shop" is missing (the shop file); add it, like shop: ../shop.yaml
mold.yaml:1: the key "bait" is missing (what the bait is called); add it, like bait: 4 in paddle tail
mold.yaml:1: the key "mold" is missing (what the mold is called); add it, like mold: twin swimmer
mold.yaml:1: needs a model (model: bait.stl), the models of the mold's halves (halves: {plain half: a.stl, marked half: b.stl}) or a weighed bait (weighed: 9.8 g)
mold.yaml:1: the key "cavities" is missing (how many baits the mold makes at once); add it, like cavities: 2
mold.yaml:1: the key "injector" is missing (the injector, as the shop file calls it); add it, like injector: twin
mold.yaml:1: the key "colours" is missing (a list of them, from belly to back); add it, like colours: [{name: belly, material: soft, barrel: left, half: lower half}, {name: back, material: soft, barrel: right, half: upper half}]
mold.yaml:1: the key "vessel" is missing (what each colour is heated in, as the shop file calls it); add it, like vessel: quart cup`},
}

func deepLines(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "shop:\n")
	}
	return b.String()
}

func TestBadTexts(t *testing.T) {
	for _, b := range badTexts {
		t.Run(b.name, func(t *testing.T) {
			dir := folder(t, map[string]string{"shop.yaml": goodShop, "mold.yaml": b.text})
			_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
			bad{want: b.want}.check(t, inFolder(dir, err))
		})
	}
}

// What is wrong with the file itself and not with its text.
func TestUnreadableFiles(t *testing.T) {
	dir := folder(t, map[string]string{"shop.yaml": goodShop})
	if err := os.Mkdir(filepath.Join(dir, "folder.yaml"), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"no such.yaml":           `no such.yaml: there is no such file`,
		"folder.yaml":            `folder.yaml: this is a folder, not a file`,
		"bad\x1b[31m\nname.yaml": `bad[31m name.yaml: there is no such file`,
	} {
		t.Run(want, func(t *testing.T) {
			_, err := ReadMold(filepath.Join(dir, name))
			bad{want: want}.check(t, inFolder(dir, err))
			_, err = ReadLine(filepath.Join(dir, name))
			bad{want: want}.check(t, inFolder(dir, err))
		})
	}
}

// A device has no size to be believed and no end.
func TestEndlessFile(t *testing.T) {
	const endless = "/dev/zero"
	if _, err := os.Stat(endless); err != nil {
		t.Skipf("this system has no %s", endless)
	}
	_, err := ReadMold(endless)
	bad{want: `/dev/zero: this is not text; a mold or shop file is plain text with lines like "cavities: 2"`}.check(t, err)
}
