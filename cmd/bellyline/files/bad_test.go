package files

import (
	"path/filepath"
	"strings"
	"testing"
)

// bad is one change of a good file and the whole line that it must be answered
// with, without the folder.
type bad struct {
	name     string
	old, new string
	want     string
}

// readChanged reads the good mold file with one of the two files changed.
func readChanged(t *testing.T, file string, b bad) error {
	t.Helper()
	texts := map[string]string{"shop.yaml": goodShop, "mold.yaml": goodMold}
	texts[file] = replaceOnce(t, texts[file], b.old, b.new)
	dir := folder(t, texts)
	_, err := ReadMold(filepath.Join(dir, "mold.yaml"))
	return inFolder(dir, err)
}

// bareError is an error with the test's folder left out.
type bareError string

func (e bareError) Error() string { return string(e) }

func inFolder(dir string, err error) error {
	if err == nil {
		return nil
	}
	bare := strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), "")
	return bareError(strings.ReplaceAll(bare, dir, "FOLDER"))
}

func (b bad) check(t *testing.T, err error) {
	t.Helper()
	if err == nil {
		t.Fatalf("no error, want\n%s", b.want)
	}
	if err.Error() != b.want {
		t.Errorf("\n got %s\nwant %s", err, b.want)
	}
}
