package bench

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"testing"
)

// example names a file of the invented shop.
func example(path ...string) string {
	return filepath.Join(append([]string{"..", "..", "..", "examples"}, path...)...)
}

// asSTL writes facets as a binary STL.
func asSTL(facets [][3][3]float32) []byte {
	out := append([]byte{}, make([]byte, 80)...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(facets)))
	for _, f := range facets {
		out = append(out, make([]byte, 12)...)
		for _, p := range f {
			for _, x := range p {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(x))
			}
		}
		out = append(out, 0, 0)
	}
	return out
}

// tetrahedron is a corner cut off a cube of side a: it holds a^3/6.
func tetrahedron(a float32) []byte {
	o, x, y, z := [3]float32{}, [3]float32{a, 0, 0}, [3]float32{0, a, 0}, [3]float32{0, 0, a}
	return asSTL([][3][3]float32{{o, y, x}, {o, x, z}, {o, z, y}, {x, y, z}})
}

// openTetrahedron lacks the facet across the corner.
func openTetrahedron(a float32) []byte {
	o, x, y, z := [3]float32{}, [3]float32{a, 0, 0}, [3]float32{0, a, 0}, [3]float32{0, 0, a}
	return asSTL([][3][3]float32{{o, y, x}, {o, x, z}, {o, z, y}})
}

// openFirst opens what the command line named.
func openFirst(t testing.TB, s *Server) opened {
	t.Helper()
	return decode[opened](t, post(t, s, "/api/open", nil))
}

// post asks as the page does and returns the body of an answer that must be one.
func post(t testing.TB, h http.Handler, path string, body any) []byte {
	t.Helper()
	code, answer := try(t, h, path, body)
	if code != http.StatusOK {
		t.Fatalf("POST %s: status %d: %s", path, code, answer)
	}
	return answer
}

func try(t testing.TB, h http.Handler, path string, body any) (int, []byte) {
	t.Helper()
	var in bytes.Buffer
	if body != nil {
		if err := json.NewEncoder(&in).Encode(body); err != nil {
			t.Fatal(err)
		}
	}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, "http://127.0.0.1:4711"+path, &in)
	if err != nil {
		t.Fatal(err)
	}
	w := &answerBuffer{head: http.Header{}, code: http.StatusOK}
	h.ServeHTTP(w, r)
	return w.code, w.body.Bytes()
}

// answerBuffer is a response in memory; httptest's needs no testing.T but copies more.
type answerBuffer struct {
	head http.Header
	code int
	body bytes.Buffer
}

func (w *answerBuffer) Header() http.Header         { return w.head }
func (w *answerBuffer) WriteHeader(code int)        { w.code = code }
func (w *answerBuffer) Write(p []byte) (int, error) { return w.body.Write(p) }

func decode[T any](t testing.TB, data []byte) T {
	t.Helper()
	var v T
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatalf("%v: %.300s", err, data)
	}
	return v
}

func settingsJSON(t *testing.T, s settings) io.Reader {
	t.Helper()
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(data)
}

// readFile is a file of the invented shop as it would be dropped.
func readFile(t *testing.T, path ...string) file {
	t.Helper()
	data, err := os.ReadFile(example(path...))
	if err != nil {
		t.Fatal(err)
	}
	return file{path[len(path)-1], data}
}
