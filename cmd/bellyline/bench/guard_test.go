package bench

import (
	"bytes"
	"encoding/json"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/textproto"
	"strings"
	"testing"

	"bellyline/cmd/bellyline/shop"
)

// ask sends one request to a bench as a browser on its own page would.
func ask(t *testing.T, h http.Handler, method, path string, body io.Reader, change func(*http.Request)) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, "http://127.0.0.1:4711"+path, body)
	if change != nil {
		change(r)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func newBench(t *testing.T, o Options) *Server {
	t.Helper()
	s, err := New(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A name that only begins with a loopback address was let in by a test of the prefix.
func TestOnlyNamesOfThisMachine(t *testing.T) {
	s := newBench(t, Options{})
	for host, want := range map[string]int{
		"127.0.0.1:4711": http.StatusOK, "localhost": http.StatusOK, "LOCALHOST:1": http.StatusOK, "[::1]:80": http.StatusOK, "::1": http.StatusOK, "127.9.9.9": http.StatusOK,
		"127.0.0.1.evil.example": http.StatusForbidden, "localhost.evil.example:4711": http.StatusForbidden, "evil.example": http.StatusForbidden,
		"192.168.1.5": http.StatusForbidden, "0.0.0.0": http.StatusForbidden, "": http.StatusForbidden, "[::1%25eth0]": http.StatusForbidden, "::ffff:10.0.0.1": http.StatusForbidden,
	} {
		for _, path := range []string{"/", "/page.js", "/api/work/x/shape"} {
			got := ask(t, s, "GET", path, nil, func(r *http.Request) { r.Host = host }).Code
			if path != "/" && path != "/page.js" && want == http.StatusOK {
				continue // there is no such work
			}
			if got != want {
				t.Errorf("Host %q, %s: status %d, want %d", host, path, got, want)
			}
		}
	}
}

func TestOtherPagesMayNotPost(t *testing.T) {
	s := newBench(t, Options{File: example("paddletail", "mold.yaml")})
	id := openFirst(t, s).ID
	for name, from := range map[string]func(*http.Request){
		"an origin of elsewhere":     func(r *http.Request) { r.Header.Set("Origin", "https://evil.example") },
		"another port":               func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:9") },
		"no origin at all":           func(r *http.Request) { r.Header.Set("Origin", "null") },
		"what the browser calls so":  func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"another port of the same":   func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
		"both, and the host is ours": func(r *http.Request) { r.Header.Set("Origin", "http://localhost:4711.evil.example") },
	} {
		for _, path := range []string{"/api/open", "/api/upload", "/api/work/" + id + "/answer", "/api/work/" + id + "/save/mold", "/api/work/" + id + "/close"} {
			if got := ask(t, s, "POST", path, strings.NewReader("{}"), from).Code; got != http.StatusForbidden {
				t.Errorf("POST %s from %s: status %d, want %d", path, name, got, http.StatusForbidden)
			}
		}
	}
	if got := ask(t, s, "POST", "/api/open", nil, func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:4711") }).Code; got != http.StatusOK {
		t.Errorf("the page itself may not ask: status %d", got)
	}
}

func TestEveryAnswerCarriesThePolicy(t *testing.T) {
	s := newBench(t, Options{})
	for _, path := range []string{"/", "/page.js", "/page.css", "/none", "/api/work/x/shape"} {
		head := ask(t, s, "GET", path, nil, nil).Header()
		if !strings.HasPrefix(head.Get("Content-Security-Policy"), "default-src 'none'; script-src 'self';") || strings.Contains(head.Get("Content-Security-Policy"), "unsafe") {
			t.Errorf("%s: policy %q", path, head.Get("Content-Security-Policy"))
		}
		if head.Get("X-Content-Type-Options") != "nosniff" || head.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: %v", path, head)
		}
	}
}

// file is one file of an upload, whose name is written as it stands.
type file struct {
	name string
	data []byte
}

func upload(t *testing.T, s *Server, files ...file) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for _, f := range files {
		part, err := form.CreatePart(textproto.MIMEHeader{"Content-Disposition": {`form-data; name="files"; filename="` + f.name + `"`}})
		if err != nil {
			t.Fatal(err)
		}
		part.Write(f.data) // to memory: cannot fail
	}
	form.Close()
	return ask(t, s, "POST", "/api/upload", &body, func(r *http.Request) { r.Header.Set("Content-Type", form.FormDataContentType()) })
}

func refusal(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	var got struct {
		Error string `json:"error"`
	}
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
		t.Fatalf("%v: %s", err, w.Body)
	}
	return got.Error
}

func TestTooLargeAnUploadIsCutOff(t *testing.T) {
	s := newBench(t, Options{UploadBytes: 2 << 20})
	w := upload(t, s, file{"bait.stl", bytes.Repeat([]byte("x"), 3<<20)})
	if w.Code != http.StatusRequestEntityTooLarge || refusal(t, w) != "more than 2 MB at once is not taken; export the model coarser, or name it on the command line" {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if w := ask(t, newBench(t, Options{File: example("weighed.yaml")}), "POST", "/api/work/x/answer", nil, nil); w.Code != http.StatusNotFound {
		t.Errorf("a work that is not there: status %d", w.Code)
	}
}

func TestTooLongAQuestionIsCutOff(t *testing.T) {
	s := newBench(t, Options{File: example("weighed.yaml")})
	long := `{"share":"` + strings.Repeat("4", largestQuestion) + `"}`
	if w := ask(t, s, "POST", "/api/work/"+openFirst(t, s).ID+"/answer", strings.NewReader(long), nil); w.Code != http.StatusBadRequest {
		t.Errorf("status %d: %.200s", w.Code, w.Body)
	}
}

// Nothing on the disk is reached by a path, however it is written.
func TestNoPathLeadsToTheDisk(t *testing.T) {
	s := newBench(t, Options{})
	for _, path := range []string{"/../guard.go", "/..%2fguard.go", "/page/page.html", "/%2e%2e/doc.go", "/C:%5cboot.ini", "//etc/passwd", "/page.css/..", "/etc/passwd"} {
		w := ask(t, s, "GET", path, nil, nil)
		if w.Code == http.StatusOK {
			t.Errorf("GET %s is answered: %.80s", path, w.Body)
		}
	}
	mold := []byte("shop: ../../../../examples/shop.yaml\nbait: b\n")
	w := upload(t, s, file{"mold.yaml", mold}, file{"bait.stl", tetrahedron(30)})
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(refusal(t, w), "shop.yaml: it was not given together") {
		t.Errorf("a shop file on the disk: status %d: %s", w.Code, w.Body)
	}
	model := bytes.ReplaceAll(shop.StarterMold(), []byte("model: bait.stl"), []byte("model: ../../../../examples/paddletail/bait.stl"))
	w = upload(t, s, file{"mold.yaml", model}, file{"shop.yaml", shop.StarterShop()}, file{"other.stl", tetrahedron(30)})
	if w.Code != http.StatusUnprocessableEntity || refusal(t, w) != "mold.yaml names the model bait.stl, which was not among the files; choose all of them at once" {
		t.Errorf("a model on the disk: status %d: %s", w.Code, w.Body)
	}
}

// The name of an uploaded file is shown and goes into a mold file, never to a disk.
func TestNamesOfFilesAreHarmless(t *testing.T) {
	s := newBench(t, Options{})
	for name, want := range map[string]string{
		"../../etc/cron.d/bait.stl": "bait.stl", `..\\..\\windows\\bait.STL`: "bait.STL", "bait\u202egpj.stl": "baitgpj.stl", ".stl": "model.stl",
		"a/../.stl": "model.stl", "<script>alert(1)<script>.stl": "<script>alert(1)<script>.stl", "x: {y}#.stl": "x: {y}#.stl",
	} {
		w := upload(t, s, file{name, tetrahedron(30)})
		if w.Code != http.StatusOK {
			t.Errorf("%q: status %d: %s", name, w.Code, w.Body)
			continue
		}
		var got opened
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if got.Name != want || got.Kind != "bait" {
			t.Errorf("%q is shown as %q, kind %s, want %q", name, got.Name, got.Kind, want)
		}
		if strings.Contains(w.Body.String(), "<script") {
			t.Errorf("%q comes back as markup: %s", name, w.Body)
		}
	}
}

// A header of an STL and a bait's name may hold markup; no answer carries any.
func TestScriptInAModelsName(t *testing.T) {
	s := newBench(t, Options{})
	script := "<img src=x onerror=alert(1)>"
	text := bytes.ReplaceAll(shop.StarterMold(), []byte("bait: bait\n"), []byte("bait: '"+script+"'\n"))
	w := upload(t, s, file{"mold.yaml", text}, file{"shop.yaml", shop.StarterShop()}, file{"bait.stl", tetrahedron(30)})
	if w.Code != http.StatusOK {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	var got opened
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Bait != script || strings.Contains(w.Body.String(), "<img") {
		t.Errorf("bait %q in %.300s", got.Bait, w.Body)
	}
	card := ask(t, s, "POST", "/api/work/"+got.ID+"/save/card", settingsJSON(t, got.Settings), nil)
	if card.Code != http.StatusOK || strings.Contains(strings.ToLower(card.Body.String()), "<img src=x") {
		t.Errorf("status %d: the card carries the script", card.Code)
	}
	if d := card.Header().Get("Content-Disposition"); d != `attachment; filename="img-src-x-onerror-alert-1-card.html"` {
		t.Errorf("the card is saved as %s", d)
	}
}
