package mesh

import (
	"os"
	"syscall"
	"unsafe"
)

// preferHugePages asks the kernel to put huge pages behind a large slice that was
// just made and not touched yet. A table that is read at random then costs fewer
// misses of the address cache, and memory comes 512 pages at a time. It is a wish:
// nothing depends on it.
func preferHugePages[T any](s []T) {
	const (
		adviceHugePage = 14      // MADV_HUGEPAGE
		worthIt        = 4 << 20 // bytes: two huge pages
	)
	size := uintptr(cap(s)) * unsafe.Sizeof(*new(T))
	if size < worthIt {
		return
	}
	page := uintptr(os.Getpagesize())
	start := uintptr(unsafe.Pointer(unsafe.SliceData(s)))
	from := (start + page - 1) &^ (page - 1)
	to := (start + size) &^ (page - 1)
	_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, from, to-from, adviceHugePage)
}
