package plain

import (
	"strings"
	"testing"
)

func TestLineStripsWhatSteersATerminal(t *testing.T) {
	for in, want := range map[string]string{
		"grub":                "grub",
		"a\tb\nc\r\n":         "a b c  ",
		"\x1b[2Jgrub\x07\x00": "[2Jgrub",
		"\u202egrub\u200b":    "grub", // right-to-left override, zero width space
		"gr\xffub":            "grub",
		"Wels 120 mm, höher":  "Wels 120 mm, höher",
	} {
		if got := Line(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestNameIsOneShortLine(t *testing.T) {
	if got := Name("  a \n\t\x07 b  "); got != "a b" {
		t.Errorf("%q, want %q", got, "a b")
	}
	if got := Name(strings.Repeat("ö", 200)); got != strings.Repeat("ö", 79)+"…" {
		t.Errorf("%q has not 79 letters and a mark", got)
	}
}
