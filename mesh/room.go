package mesh

// room makes a slice of n zeros, with huge pages behind it where it is large.
func room[T any](n int) []T {
	s := make([]T, n)
	preferHugePages(s)
	return s
}
