package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"os"
)

// writeBody draws a closed bait-like body of about the wanted number of facets,
// rings of corners from tail to nose, and returns how many it has.
func writeBody(path string, facets int, text bool) (int, error) {
	around := max(8, int(math.Sqrt(float64(facets)/4)))
	along := max(4, facets/(2*around))
	count := 2 * around * along
	file, err := os.Create(path)
	if err != nil {
		return 0, err
	}
	w := bufio.NewWriterSize(file, 1<<20)
	put := binaryFacet
	if text {
		put = textFacet
		fmt.Fprintln(w, "solid body")
	} else {
		w.Write(make([]byte, 80))
		binary.Write(w, binary.LittleEndian, uint32(count))
	}
	drawRings(w, around, along, put)
	if text {
		fmt.Fprintln(w, "endsolid body")
	}
	if err := w.Flush(); err != nil {
		return 0, err
	}
	return count, file.Close()
}

type point [3]float32

// bodyAt is a corner: u from tail (0) to nose (1), v once around.
func bodyAt(u, v float64) point {
	swell := math.Pow(math.Sin(math.Pi*u), 0.6) * (0.6 + 0.4*u) * (1 + 0.02*math.Sin(60*u))
	s, c := math.Sincos(2 * math.Pi * v)
	return point{float32(100 * u), float32(7 * swell * c), float32(10*swell*s + 2*math.Sin(4*u))}
}

// drawRings emits along-1 bands of quads between rings and a fan at either end.
func drawRings(w *bufio.Writer, around, along int, put func(*bufio.Writer, point, point, point)) {
	ring := func(i int) []point {
		r := make([]point, around+1)
		for k := range r {
			r[k] = bodyAt(float64(i)/float64(along+1), float64(k%around)/float64(around))
		}
		return r
	}
	tail, nose := bodyAt(0, 0), bodyAt(1, 0)
	last := ring(1)
	for k := range around {
		put(w, tail, last[k+1], last[k])
	}
	for i := 2; i <= along; i++ {
		next := ring(i)
		for k := range around {
			put(w, last[k], last[k+1], next[k+1])
			put(w, last[k], next[k+1], next[k])
		}
		last = next
	}
	for k := range around {
		put(w, nose, last[k], last[k+1])
	}
}

func binaryFacet(w *bufio.Writer, a, b, c point) {
	var rec [50]byte
	at := 12
	for _, p := range [3]point{a, b, c} {
		for _, x := range p {
			binary.LittleEndian.PutUint32(rec[at:], math.Float32bits(x))
			at += 4
		}
	}
	w.Write(rec[:])
}

func textFacet(w *bufio.Writer, a, b, c point) {
	fmt.Fprint(w, "facet normal 0 0 0\n outer loop\n")
	for _, p := range [3]point{a, b, c} {
		fmt.Fprintf(w, "  vertex %e %e %e\n", p[0], p[1], p[2])
	}
	fmt.Fprint(w, " endloop\nendfacet\n")
}
