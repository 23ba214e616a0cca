// Package radix sorts numbers by small keys, on all processors.
package radix

import (
	"runtime"
	"sync"

	"bellyline/mesh/internal/hugepages"
)

// digitBits is how much of a key is sorted by at once, at most.
const digitBits = 12

// Keyed packs a sort key and the number of what it belongs to.
func Keyed(key uint32, number int) uint64 { return uint64(key)<<32 | uint64(uint32(number)) }

// Item returns the number packed in a keyed value.
func Item(k uint64) int32 { return int32(uint32(k)) }

// Sort returns keyed values by their keys, of so many bits, those of equal keys
// in the order that they stood in, and may use their array for scratch. Least digit
// first
// (Knuth, The Art of Computer Programming vol. 3, 5.2.5; from memory). Each
// worker counts and moves a stretch of its own; a stable order is one order
// only, so the number of workers does not show.
func Sort(values []uint64, bits int) []uint64 {
	scratch := hugepages.Make[uint64](len(values))
	stretches := SplitEvenly(len(values), runtime.GOMAXPROCS(0))
	counts := make([][1 << digitBits]int, len(stretches))
	passes := (bits + digitBits - 1) / digitBits
	digit := (bits + passes - 1) / passes
	mask := uint64(1)<<digit - 1
	for pass := range passes {
		shift := 32 + pass*digit
		Each(stretches, func(w, from, to int) { countDigits(&counts[w], values[from:to], shift, mask) })
		startDigits(counts)
		Each(stretches, func(w, from, to int) { moveByDigit(scratch, &counts[w], values[from:to], shift, mask) })
		values, scratch = scratch, values
	}
	return values
}

func countDigits(count *[1 << digitBits]int, values []uint64, shift int, mask uint64) {
	*count = [1 << digitBits]int{}
	for _, v := range values {
		count[v>>shift&mask&(1<<digitBits-1)]++
	}
}

// startDigits turns counts into the places where each worker's first value of
// each digit goes.
func startDigits(counts [][1 << digitBits]int) {
	place := 0
	for digit := range 1 << digitBits {
		for w := range counts {
			counts[w][digit], place = place, place+counts[w][digit]
		}
	}
}

func moveByDigit(to []uint64, place *[1 << digitBits]int, values []uint64, shift int, mask uint64) {
	for _, v := range values {
		digit := v >> shift & mask & (1<<digitBits - 1)
		to[place[digit]] = v
		place[digit]++
	}
}

// SplitEvenly cuts 0..n into at most parts stretches.
func SplitEvenly(n, parts int) [][2]int {
	const worthwhile = 1 << 12
	parts = max(1, min(parts, n/worthwhile))
	stretches := make([][2]int, parts)
	for p := range stretches {
		stretches[p] = [2]int{n * p / parts, n * (p + 1) / parts}
	}
	return stretches
}

// Each runs work on all stretches at once.
func Each(stretches [][2]int, work func(w, from, to int)) {
	var wait sync.WaitGroup
	for w, s := range stretches {
		wait.Go(func() { work(w, s[0], s[1]) })
	}
	wait.Wait()
}
