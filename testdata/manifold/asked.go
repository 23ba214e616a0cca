package manifold

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"bellyline/testdata/shells"

	"github.com/golang/geo/r3"
)

// Asked writes a body as a file and has the library unite its shells. Without the
// library the test is skipped, except where CI=true promises that nothing is skipped.
func Asked(t *testing.T, corners []r3.Vector) (file string, u Union) {
	t.Helper()
	dir := t.TempDir()
	file = filepath.Join(dir, "body.stl")
	if err := os.WriteFile(file, shells.STL(corners), 0o600); err != nil {
		t.Fatal(err)
	}
	u, err := Unite(t.Context(), dir, file)
	if errors.Is(err, ErrMissing) && os.Getenv("CI") != "true" {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return file, u
}
