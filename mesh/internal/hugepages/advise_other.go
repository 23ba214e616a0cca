//go:build !linux

package hugepages

// advise does nothing where the kernel cannot be asked.
func advise[T any](s []T) {}
