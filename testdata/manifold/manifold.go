// Package manifold has manifold-3d, a library of solid modelling made of WebAssembly,
// unite the shells of STL files. Its node script holds no line of ours on geometry,
// so what it says is a second opinion.
package manifold

import (
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// Variable names the folder with the library, which .ci/manifold fetches.
const Variable = "BELLYLINE_MANIFOLD"

// ErrMissing is wrapped where the library, or node to run it, is not here.
var ErrMissing = errors.New("manifold-3d is not here")

//go:embed union.mjs
var script []byte

// Union is what the library says of the union of a file's shells. It computes in
// float64; ToleranceMM is the length below which it takes edges for rounding.
type Union struct {
	Shells      int     `json:"shells"`
	SignedMM3   float64 `json:"signed_mm3"` // sum over shells
	VolumeMM3   float64 `json:"volume_mm3"`
	AreaMM2     float64 `json:"area_mm2"`
	Triangles   int     `json:"triangles"`
	ToleranceMM float64 `json:"tolerance_mm"`
	Status      string  `json:"status"`
}

// Command returns the program and arguments that unite a binary STL file; out is the
// file to write, "" for none. The script is put into dir. Errors wrap ErrMissing.
func Command(dir, file, out string) ([]string, error) {
	folder := os.Getenv(Variable)
	if folder == "" {
		return nil, fmt.Errorf("%w: %s does not name its folder", ErrMissing, Variable)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrMissing, err)
	}
	path := filepath.Join(dir, "union.mjs")
	if err := os.WriteFile(path, script, 0o600); err != nil {
		return nil, err
	}
	args := []string{node, path, folder, file}
	if out != "" {
		args = append(args, out)
	}
	return args, nil
}

// Unite unites the shells of a binary STL file; dir is for the script.
func Unite(ctx context.Context, dir, file string) (Union, error) {
	args, err := Command(dir, file, "")
	if err != nil {
		return Union{}, err
	}
	said, err := exec.CommandContext(ctx, args[0], args[1:]...).Output()
	if failed := (*exec.ExitError)(nil); errors.As(err, &failed) {
		return Union{}, fmt.Errorf("manifold-3d: %w: %s", err, failed.Stderr)
	}
	if err != nil {
		return Union{}, err
	}
	var u Union
	if err := json.Unmarshal(said, &u); err != nil {
		return Union{}, err
	}
	if u.Status != "NoError" {
		return u, fmt.Errorf("manifold-3d: status %s", u.Status)
	}
	return u, nil
}
