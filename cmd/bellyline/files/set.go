package files

import (
	"path"
	"path/filepath"
	"strings"
)

// Set is files that came together without a folder, by their bare names: they name
// each other by the last part of a path, and nothing is looked for on a disk.
type Set map[string][]byte

// bare is the name of a file without its folders, written for any system.
func bare(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// beside finds a file that a document names.
func (d *document) beside(name string) string {
	switch {
	case d.set != nil:
		return bare(name)
	case filepath.IsAbs(name):
		return name
	}
	return filepath.Join(filepath.Dir(d.file), filepath.FromSlash(name))
}
