package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
)

// A facet as a file has it: three corners. The normals of these test files are
// the zero vector, as many exporters write it, where nothing else is said.
type rawFacet [3][3]float32

// tetrahedron has one corner at the origin and one on each axis at 1.
var tetrahedron = []rawFacet{
	{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}},
	{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}},
	{{0, 0, 0}, {0, 0, 1}, {0, 1, 0}},
	{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
}

// binarySTL writes facets behind a header and a count, which need not be true.
func binarySTL(header string, count uint32, facets []rawFacet) []byte {
	var b bytes.Buffer
	b.WriteString(header + strings.Repeat("\x00", headerBytes-len(header)))
	must(binary.Write(&b, binary.LittleEndian, count))
	for _, f := range facets {
		must(binary.Write(&b, binary.LittleEndian, [3]float32{}))
		must(binary.Write(&b, binary.LittleEndian, f))
		must(binary.Write(&b, binary.LittleEndian, uint16(0)))
	}
	return b.Bytes()
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// textFacets writes facets as text, without solid and endsolid.
func textFacets(facets []rawFacet) string {
	var b strings.Builder
	for _, f := range facets {
		b.WriteString("  facet normal 0 0 0\n    outer loop\n")
		for _, v := range f {
			fmt.Fprintf(&b, "      vertex %g %g %g\n", v[0], v[1], v[2])
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	return b.String()
}

// textSTL writes one solid.
func textSTL(name string, facets []rawFacet) string {
	return "solid " + name + "\n" + textFacets(facets) + "endsolid " + name + "\n"
}

// with returns a copy of b with other bytes from a place on.
func with(b []byte, at int, other ...byte) []byte {
	b = bytes.Clone(b)
	copy(b[at:], other)
	return b
}

// float32Bytes returns the bytes of a float32.
func float32Bytes(x float64) []byte {
	return binary.LittleEndian.AppendUint32(nil, math.Float32bits(float32(x)))
}

// edit replaces the one place in s where from stands.
func edit(s, from, to string) string {
	if strings.Count(s, from) != 1 {
		panic(fmt.Sprintf("%q stands %d times in the test's file", from, strings.Count(s, from)))
	}
	return strings.Replace(s, from, to, 1)
}

// glue puts files behind each other.
func glue(parts ...[]byte) []byte { return bytes.Join(parts, nil) }

// utf16 encodes text as some editors save it.
func utf16(s string) []byte {
	b := []byte{0xFF, 0xFE}
	for _, c := range []byte(s) {
		b = append(b, c, 0)
	}
	return b
}
