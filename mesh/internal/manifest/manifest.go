// Package manifest lists for tests the real models that they are measured against, and
// what other programs found in them.
package manifest

import (
	"bufio"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// modelsVariable names the folder of real models, which are other people's work
// and so not in the repository. testdata/models.tsv says where each comes from
// and what other programs found in it.
const modelsVariable = "BELLYLINE_MODELS"

// modelsDir returns the folder of real models. Without one the test is skipped,
// except where CI=true promises that nothing is skipped.
func modelsDir(t testing.TB) string {
	t.Helper()
	dir := os.Getenv(modelsVariable)
	if dir == "" {
		const reason = modelsVariable + " does not name the folder of real models"
		if os.Getenv("CI") == "true" {
			t.Fatal(reason)
		}
		t.Skip(reason)
	}
	return dir
}

// Model is one line of models.tsv: its cells by the heading of their column.
type Model map[string]string

// Models returns the lines of models.tsv in their order.
func Models(t testing.TB) []Model {
	t.Helper()
	modelsDir(t)
	file, err := os.Open(filepath.Join(root(t), "testdata", "models.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var heads []string
	var models []Model
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		cells := strings.Split(lines.Text(), "\t")
		if heads == nil {
			heads = cells
			continue
		}
		line := Model{}
		for i, cell := range cells {
			line[heads[i]] = cell
		}
		models = append(models, line)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	if len(models) == 0 {
		t.Fatal("the manifest lists no model")
	}
	return models
}

// root returns the folder of the module, above that of the test.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, missing := os.Stat(filepath.Join(dir, "go.mod")); missing == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			err = os.ErrNotExist
		}
		dir = filepath.Dir(dir)
	}
	t.Fatal("no go.mod above the test: ", err)
	return ""
}

// Path returns where the model's file is. A model that the folder lacks is
// skipped, except one that a registry serves where CI=true: .ci/models fetches
// those.
func (m Model) Path(t testing.TB) string {
	t.Helper()
	path := filepath.Join(modelsDir(t), m["file"])
	if _, err := os.Stat(path); err != nil {
		served := strings.HasPrefix(m["source"], "npm:") || strings.HasPrefix(m["source"], "apt:")
		if served && os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skipf("%s is not in the folder of real models", m["file"])
	}
	return path
}

// Whole returns the whole number in a column.
func (m Model) Whole(t testing.TB, column string) int {
	t.Helper()
	n, err := strconv.Atoi(m[column])
	if err != nil {
		t.Fatalf("%s, column %s: %v", m["file"], column, err)
	}
	return n
}

// Number returns the number in a column.
func (m Model) Number(t testing.TB, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(m[column], 64)
	if err != nil {
		t.Fatalf("%s, column %s: %v", m["file"], column, err)
	}
	return x
}
