package stl

import (
	"bytes"
	"context"
	"fmt"
	"strconv"
	"testing"

	"bellyline/mesh/solids"
)

// benchFacets returns the facets of a torus as a file has them, in rows.
func benchFacets(facets int) []rawFacet {
	around := 1
	for 4*around*around < facets {
		around++
	}
	corners := solids.Torus(30, 10, 2*around, around)
	list := make([]rawFacet, len(corners)/3)
	for i, c := range corners {
		list[i/3][i%3] = [3]float32{float32(c.X), float32(c.Y), float32(c.Z)}
	}
	return list
}

func benchmarkRead(b *testing.B, file []byte) {
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if _, err := Read(context.Background(), bytes.NewReader(file), ReadOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadBinary(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			facets := benchFacets(n)
			benchmarkRead(b, binarySTL("", uint32(len(facets)), facets))
		})
	}
}

func BenchmarkReadText(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			benchmarkRead(b, []byte(textSTL("torus", benchFacets(n))))
		})
	}
}

// BenchmarkDecimal reads one number as each kind of exporter writes it, beside
// the standard library's exact reader.
func BenchmarkDecimal(b *testing.B) {
	for _, s := range []string{"-49.99934", "1.23456787E+01", "12.345678", "12.345678901234567", "0"} {
		file := []byte(s + "                               ")
		b.Run(s, func(b *testing.B) {
			for b.Loop() {
				decimal(file)
			}
		})
		b.Run("strconv/"+s, func(b *testing.B) {
			for b.Loop() {
				if _, err := strconv.ParseFloat(string(file[:len(s)]), 32); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
