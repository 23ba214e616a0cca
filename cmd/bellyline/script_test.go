package main

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The program's goldens are the files inside testdata/script/*.txtar that "cmp"
// compares with; this flag writes what the program prints now into them.
var update = flag.Bool("update", false, "rewrite the goldens in testdata/script")

// examples is the invented shop, seen from this package.
var examples = filepath.Join("..", "..", "examples")

// TestMain lets the scripts run this test binary as the program.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"bellyline": main})
}

// TestScripts runs testdata/script, each in an empty folder with a copy of the
// examples in it. The first comment of a script says what it guards. Besides
// testscript's own commands there are:
//
//	exits STATUS PROGRAM ARGS...   runs the program, which must end with this status
//	refuses SENTENCE...            nothing on stdout, exactly these lines on stderr
//	digits FILE                    writes the JSON on stdout to FILE, fractions to 7 digits
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			return os.CopyFS(filepath.Join(env.WorkDir, "examples"), os.DirFS(examples))
		},
		Condition: condition,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":   exits,
			"refuses": refuses,
			"digits":  digits,
		},
	})
}

// condition knows [root], who may read and write what is forbidden to others,
// and [full], a device that takes nothing more.
func condition(name string) (bool, error) {
	switch name {
	case "root":
		return os.Geteuid() == 0, nil
	case "full":
		_, err := os.Stat("/dev/full")
		return err == nil, nil
	}
	return false, fmt.Errorf("unknown condition %q", name)
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

func refuses(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: refuses SENTENCE...")
	}
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("a refusal printed on stdout:\n%s", out)
	}
	if got, want := ts.ReadFile("stderr"), strings.Join(args, "\n")+"\n"; got != want {
		ts.Fatalf("stderr\n got: %swant: %s", got, want)
	}
}

// jsonNumber is a number that ends a line of indented JSON; a string never does.
var jsonNumber = regexp.MustCompile(`(?m)-?\d[\d.eE+-]*(,?)$`)

// digits is for goldens of JSON: processors that fuse multiplication and
// addition differ in the last digits, and where the answer is zero in all.
func digits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: digits FILE")
	}
	const noise = 1e-9
	text := jsonNumber.ReplaceAllStringFunc(ts.ReadFile("stdout"), func(n string) string {
		bare, comma := strings.CutSuffix(n, ",")
		x, err := strconv.ParseFloat(bare, 64)
		ts.Check(err)
		if math.Abs(x) < noise {
			x = 0
		}
		if bare = strconv.FormatFloat(x, 'g', 7, 64); comma {
			bare += ","
		}
		return bare
	})
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}
