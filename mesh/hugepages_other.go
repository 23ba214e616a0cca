//go:build !linux

package mesh

// preferHugePages does nothing where the kernel cannot be asked.
func preferHugePages[T any](s []T) {}
