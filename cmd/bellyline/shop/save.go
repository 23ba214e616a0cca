package shop

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// SaveFile writes a file beside its place first: one that is there stays whole
// whatever happens.
func SaveFile(ctx context.Context, path string, write func(io.Writer) error) error {
	aside, err := os.CreateTemp(filepath.Dir(path), ".saving-*")
	if err != nil {
		if folder := filepath.Dir(path); errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s: there is no folder %s to save in; make it first", path, folder)
		}
		var where *fs.PathError
		if errors.As(err, &where) {
			where.Path = path // the name that the user knows
		}
		return err
	}
	defer os.Remove(aside.Name()) // nothing is left there when all goes well
	defer aside.Close()           // twice is no harm
	// An interrupted program does not wait for deferred calls.
	defer context.AfterFunc(ctx, func() { os.Remove(aside.Name()) })()
	if err := write(aside); err != nil {
		return err
	}
	if err := aside.Chmod(0o644); err != nil {
		return err
	}
	if err := aside.Close(); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := os.Rename(aside.Name(), path); err != nil {
		return &fs.PathError{Op: "write", Path: path, Err: renameCause(path, err)}
	}
	return nil
}

// renameCause is why a file could not take its place.
func renameCause(path string, err error) error {
	if there, statErr := os.Stat(path); statErr == nil && there.IsDir() {
		return syscall.EISDIR
	}
	return errors.Unwrap(err)
}
