// Package room makes large slices.
package room

// Of returns a slice of n zeros, with huge pages behind it where it is large.
func Of[T any](n int) []T {
	s := make([]T, n)
	preferHugePages(s)
	return s
}
