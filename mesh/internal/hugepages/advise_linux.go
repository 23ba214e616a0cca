package hugepages

import (
	"syscall"
	"unsafe"
)

// advise asks the kernel to put huge pages behind a large slice that was
// just made and not touched yet, its first and last bytes included: whole huge pages
// around it, what else lies on them too. A table that is read at random then costs
// fewer misses of the address cache, and memory comes 512 pages at a time. It is a
// wish: nothing depends on it.
func advise[T any](s []T) {
	const (
		adviceHugePage = 14 // MADV_HUGEPAGE
		hugePage       = 2 << 20
		worthIt        = hugePage / 2
	)
	size := uintptr(cap(s)) * unsafe.Sizeof(*new(T))
	if size < worthIt {
		return
	}
	start := uintptr(unsafe.Pointer(unsafe.SliceData(s)))
	from := start &^ (hugePage - 1)
	to := (start + size + hugePage - 1) &^ (hugePage - 1)
	_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, from, to-from, adviceHugePage)
}
