package main

import (
	"strings"

	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/show"
)

// fileHelp prints the keys of a kind of file, from the table that its reader checks keys
// with; false when there is no such kind.
func fileHelp(name string) (string, bool) {
	for _, file := range files.Tables() {
		if file.Name != name {
			continue
		}
		p := keyPage{told: map[*files.Key]string{}}
		p.Wrapped("", file.Means)
		p.Wrapped("", "A key in capitals stands for any name. One marked * cannot be left out. In brackets stands what a value is written in. A list has a line that begins with - for each entry, or stands in [ ].")
		p.Linef("")
		p.keys(file.Keys, "", "")
		p.kinds(file.Kinds, "", "")
		p.Linef("")
		p.Wrapped("", "Keys below a key are set in, or stand in braces: \"plug: {volume: 1.5 mL}\" is the same as \"plug:\" with \"volume: 1.5 mL\" set in below it. What follows # is a remark.")
		return p.String(), true
	}
	return "", false
}

// keyPage is a page of keys. Keys that stand at several places are told once.
type keyPage struct {
	show.Page
	told map[*files.Key]string // by the first of them: below what they are told
}

// keys prints keys, each with what stands below it.
func (p *keyPage) keys(keys []files.Key, under, in string) {
	if len(keys) == 0 {
		return
	}
	if before, ok := p.told[&keys[0]]; ok {
		p.Linef("%s(the same as below %s)", in, before)
		return
	}
	p.told[&keys[0]] = under
	for _, k := range keys {
		must := ""
		if k.Must {
			must = " *"
		}
		p.Wrapped(in+k.Name+must+"  ", keyMeaning(k))
		for _, example := range strings.Split(k.Example, " | ") {
			p.Linef("%s    %s: %s", in, k.Name, example)
		}
		p.keys(k.Keys, k.Name, in+"    ")
		p.kinds(k.Kinds, k.Name, in+"    ")
	}
}

func (p *keyPage) kinds(kinds []files.Kind, under, in string) {
	for _, kind := range kinds {
		p.Linef("%s-- %s --", in, kind.Name)
		p.keys(kind.Keys, under, in)
	}
}

func keyMeaning(k files.Key) string {
	text := k.Means
	if text == "" {
		text = "one by that name"
	}
	if k.Unit != "" {
		text += " [" + k.Unit + "]"
	}
	switch {
	case k.Default != "":
		text += "; left out: " + k.Default
	case k.Without != "":
		text += "; left out: " + k.Without
	}
	return text
}
