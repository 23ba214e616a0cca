package main

import (
	"syscall"
	"unsafe"
)

// isDoubleClicked tells whether the console window is the program's own: one that was
// made for it by a double click has no other process in it, a terminal has its shell.
func isDoubleClicked() bool {
	list := syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	if list.Find() != nil {
		return false
	}
	var ids [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}
