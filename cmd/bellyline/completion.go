package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

// shells are those that completion writes a script for.
func shells() map[string]func() string {
	return map[string]func() string{"bash": bashCompletion, "zsh": zshCompletion, "fish": fishCompletion}
}

func completionCommand() command {
	return command{
		name:    "completion",
		summary: "a script that completes commands and flags in bash, zsh or fish",
		usage:   "completion bash|zsh|fish",
		examples: []string{
			"completion bash > ~/.local/share/bash-completion/completions/bellyline",
			"completion zsh > ~/.zfunc/_bellyline",
			"completion fish > ~/.config/fish/completions/bellyline.fish",
		},
		prepare: func(c *call) func([]string) error {
			return func(names []string) error {
				if len(names) != 1 {
					return usagef("needs the name of one shell: bash, zsh or fish")
				}
				script, ok := shells()[names[0]]
				if !ok {
					return usagef("%q is not one of: %s", names[0], strings.Join(slices.Sorted(maps.Keys(shells())), ", "))
				}
				return printText(c, script())
			}
		},
	}
}

func bashCompletion() string {
	var cases strings.Builder
	for _, c := range commands() {
		var flags []string
		for _, f := range flagsOf(c) {
			flags = append(flags, "--"+f.Name)
		}
		fmt.Fprintf(&cases, "    %s) flags='%s --help' ;;\n", c.name, strings.Join(flags, " "))
	}
	return `# completes bellyline in bash
_bellyline() {
  local word=${COMP_WORDS[COMP_CWORD]} flags=''
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W '` + strings.ReplaceAll(commandNames(), ",", "") + ` help' -- "$word"))
    return
  fi
  case ${COMP_WORDS[1]} in
` + cases.String() + `  esac
  if [ "${COMP_WORDS[1]}" = completion ] && [ "$COMP_CWORD" -eq 2 ]; then
    flags="bash zsh fish $flags"
  fi
  COMPREPLY=($(compgen -W "$flags" -- "$word"))
}
complete -o default -F _bellyline bellyline
`
}

func zshCompletion() string {
	var names, cases strings.Builder
	for _, c := range commands() {
		fmt.Fprintf(&names, "      %s\n", quoted(c.name+":"+c.summary))
		fmt.Fprintf(&cases, "    %s) flags=(", c.name)
		for _, f := range flagsOf(c) {
			cases.WriteString(" " + quoted(zshFlag(f)))
		}
		cases.WriteString(" ) ;;\n")
	}
	return `#compdef bellyline
# completes bellyline in zsh
_bellyline() {
  if (( CURRENT == 2 )); then
    local -a names
    names=(
` + names.String() + `    )
    _describe command names
    return
  fi
  local -a flags
  case $words[2] in
` + cases.String() + `  esac
  if [[ $words[2] == completion ]]; then
    _values shell bash zsh fish
    return
  fi
  _arguments $flags '--help[show examples and flags]' '*:file:_files'
}
if [[ $funcstack[1] == _bellyline ]]; then
  _bellyline "$@"
else
  compdef _bellyline bellyline
fi
`
}

// zshFlag is one flag as _arguments takes it.
func zshFlag(f *pflag.Flag) string {
	meaning := strings.NewReplacer("[", "(", "]", ")", ":", " ").Replace(flagMeaning(f))
	if !takesValue(f) {
		return fmt.Sprintf("--%s[%s]", f.Name, meaning)
	}
	value, _ := pflag.UnquoteUsage(f)
	return fmt.Sprintf("--%s=[%s]:%s:_files", f.Name, meaning, value)
}

func fishCompletion() string {
	var out strings.Builder
	out.WriteString("# completes bellyline in fish\n")
	for _, c := range commands() {
		fmt.Fprintf(&out, "complete -c bellyline -n __fish_use_subcommand -f -a %s -d %s\n", c.name, quoted(c.summary))
	}
	for _, c := range commands() {
		for _, f := range flagsOf(c) {
			need := map[bool]string{true: " -r"}[takesValue(f)]
			fmt.Fprintf(&out, "complete -c bellyline -n '__fish_seen_subcommand_from %s' -l %s%s -d %s\n", c.name, f.Name, need, quoted(flagMeaning(f)))
		}
	}
	out.WriteString("complete -c bellyline -n '__fish_seen_subcommand_from completion' -f -a 'bash zsh fish'\n")
	return out.String()
}

// quoted is one word of a shell. No text of the program's own holds a quotation
// mark that the shells would read in different ways.
func quoted(text string) string {
	return "'" + strings.ReplaceAll(strings.ReplaceAll(text, `\`, ""), "'", "") + "'"
}
