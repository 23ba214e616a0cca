// Package hugepages makes large slices that are read at random.
package hugepages

// Make returns a slice of n zeros, with huge pages behind it where it is large.
func Make[T any](n int) []T {
	s := make([]T, n)
	advise(s)
	return s
}
