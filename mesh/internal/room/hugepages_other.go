//go:build !linux

package room

// preferHugePages does nothing where the kernel cannot be asked.
func preferHugePages[T any](s []T) {}
