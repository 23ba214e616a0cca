package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// shell finds a program that reads what we print. Without it the test is skipped,
// except where CI=true promises that nothing is skipped.
func shell(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	return path
}

func scriptFile(t *testing.T, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "script")
	if err := os.WriteFile(path, answer(t, exitDone, args...), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// output runs a program that must print nothing on standard error.
func output(t *testing.T, name string, args ...string) string {
	t.Helper()
	c := exec.Command(shell(t, name), args...)
	var talk strings.Builder
	c.Stderr = &talk
	out, err := c.Output()
	if err != nil || talk.String() != "" {
		t.Fatalf("%s %q: %v: %s", name, args, err, talk.String())
	}
	return string(out)
}

// Bash completes a command, its flags, and a shell's name.
func TestBashCompletes(t *testing.T) {
	script := scriptFile(t, "completion", "bash")
	for line, want := range map[string]string{
		"bellyline sp":             "split",
		"bellyline split --bel":    "--belly-share",
		"bellyline bench --l":      "--listen",
		"bellyline pour --h":       "--html --help",
		"bellyline completion f":   "fish",
		"bellyline measure bait.s": "",
	} {
		words := strings.Fields(line)
		got := output(t, "bash", "-c", `. "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _bellyline; echo "${COMPREPLY[*]}"`, script, words[0], words[1], strings.Join(words[2:], " "))
		if len(words) == 2 {
			got = output(t, "bash", "-c", `. "$0"; COMP_WORDS=("$@"); COMP_CWORD=1; _bellyline; echo "${COMPREPLY[*]}"`, script, words[0], words[1])
		}
		if strings.TrimSpace(got) != want {
			t.Errorf("%q is completed to %q, want %q", line, strings.TrimSpace(got), want)
		}
	}
}

func TestZshReadsItsCompletion(t *testing.T) {
	script := scriptFile(t, "completion", "zsh")
	got := output(t, "zsh", "-f", "-c", `autoload -Uz compinit && compinit -u -D; . "$1"; print -r -- $_comps[bellyline]`, "zsh", script)
	if strings.TrimSpace(got) != "_bellyline" {
		t.Errorf("bellyline is completed by %q", got)
	}
}

func TestFishCompletes(t *testing.T) {
	script := scriptFile(t, "completion", "fish")
	for line, want := range map[string]string{"bellyline sp": "split", "bellyline split --bel": "--belly-share", "bellyline completion z": "zsh"} {
		got := output(t, "fish", "--no-config", "-c", `source $argv[1]; complete -C $argv[2]`, script, line)
		if first, _, _ := strings.Cut(strings.TrimSpace(got), "\t"); first != want {
			t.Errorf("%q is completed to %q, want %q", line, got, want)
		}
	}
}

// groff finds nothing to warn of, and every command and flag is on the page.
func TestManPage(t *testing.T) {
	page := output(t, "groff", "-man", "-Tascii", "-ww", "-P-cbou", scriptFile(t, "man"))
	for _, c := range commands() {
		if !strings.Contains(page, "\n"+strings.ToUpper(c.name)+"\n") {
			t.Errorf("the manual page lacks %s", c.name)
		}
		for _, f := range flagsOf(c) {
			if !strings.Contains(page, "--"+f.Name) {
				t.Errorf("the manual page lacks --%s", f.Name)
			}
		}
	}
}
