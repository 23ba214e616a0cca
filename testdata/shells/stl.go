package shells

import (
	"bytes"
	"encoding/binary"
	"math"

	"github.com/golang/geo/r3"
)

// STL returns facets, three corners each, as binary STL; the corners must be fit for
// float32.
func STL(corners []r3.Vector) []byte {
	const head, facet = 84, 50
	out := bytes.NewBuffer(make([]byte, 0, head+facet*len(corners)/3))
	out.Write(make([]byte, 80)) // says nothing
	count := binary.LittleEndian.AppendUint32(nil, uint32(len(corners)/3))
	out.Write(count)
	var record [facet]byte // normals stay 0: readers work them out
	for i := 0; i+2 < len(corners); i += 3 {
		at := 12
		for _, p := range corners[i : i+3] {
			for _, x := range [3]float64{p.X, p.Y, p.Z} {
				binary.LittleEndian.PutUint32(record[at:], math.Float32bits(float32(x)))
				at += 4
			}
		}
		out.Write(record[:])
	}
	return out.Bytes()
}
