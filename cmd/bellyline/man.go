package main

import (
	"fmt"
	"strings"

	"bellyline/cmd/bellyline/show"
)

// pageText is what man and completion print with --json.
type pageText struct {
	Text string `json:"text"`
}

func manCommand() command {
	return command{
		name:    "man",
		summary: "the manual page, for man",
		usage:   "man",
		examples: []string{
			"man > bellyline.1",
			"man | man -l -",
		},
		prepare: func(c *call) func([]string) error {
			return func(names []string) error {
				if len(names) > 0 {
					return usagef("takes no names")
				}
				return printText(c, manPage())
			}
		},
	}
}

func printText(c *call, text string) error {
	return show.Result(c.out, c.json, pageText{text}, func(p *show.Page, t pageText) { p.Linef("%s", strings.TrimSuffix(t.Text, "\n")) })
}

// manPage is the manual page in roff, from the same table as --help.
func manPage() string {
	var out strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&out, format+"\n", args...) }
	line(".TH BELLYLINE 1")
	line(".SH NAME\nbellyline \\- volumes, colours and cups for soft baits")
	line(".SH SYNOPSIS")
	for _, c := range commands() {
		line(".B bellyline\n%s\n.br", roff(c.usage))
	}
	line(".SH CAUTION\nHot plastisol burns and its fumes harm. The cautions on every pour card are part of the answer; the maker's safety data sheet comes before it.")
	line(".SH DESCRIPTION\nReads the STL of a soft\\-bait cavity and says what it holds, what the bait weighs, how much of each colour a double shot takes and what goes into each cup.")
	for _, c := range commands() {
		line(".SH %s\n%s.", strings.ToUpper(c.name), roff(c.summary))
		for _, f := range flagsOf(c) {
			line(".TP\n.B %s\n%s", roff(flagForm(f)), roff(flagMeaning(f)))
		}
		line(".PP\nExamples:\n.nf")
		for _, e := range c.examples {
			line(".RS\nbellyline %s\n.RE", roff(e))
		}
		line(".fi")
	}
	line(".SH EXIT STATUS\n0 done, 1 the input cannot be answered, 2 wrong usage.")
	return out.String()
}

// roff writes text so that nothing in it is taken for a request.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text
	}
	return text
}
