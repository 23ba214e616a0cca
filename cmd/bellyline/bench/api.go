package bench

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path"

	"bellyline/cmd/bellyline/plain"
	"bellyline/cmd/bellyline/shop"
)

func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{file...}", pageFile)
	mux.HandleFunc("POST /api/open", s.open)
	mux.HandleFunc("POST /api/upload", s.takeUpload)
	mux.HandleFunc("POST /api/work/{id}/read", s.with(s.readAgain))
	mux.HandleFunc("POST /api/work/{id}/answer", s.with(s.answer))
	mux.HandleFunc("POST /api/work/{id}/split", s.with(s.split))
	mux.HandleFunc("POST /api/work/{id}/curve", s.with(s.curve))
	mux.HandleFunc("GET /api/work/{id}/shape", s.with(s.shape))
	mux.HandleFunc("POST /api/work/{id}/save/{what}", s.with(s.save))
	mux.HandleFunc("POST /api/work/{id}/close", func(w http.ResponseWriter, r *http.Request) { s.sessions.close(r.PathValue("id")) })
	return mux
}

// kinds are what the page's files are. The system's own table is not asked: on some
// machines it says something else, and a browser then refuses them.
var kinds = map[string]string{".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8"}

// pageFile sends a file of the page, which is built in: no path leads to the disk.
func pageFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("file")
	if name == "" {
		name = "page.html"
	}
	data, err := page.ReadFile("page/" + name)
	kind := kinds[path.Ext(name)]
	if err != nil || kind == "" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	_, _ = w.Write(data) // a page that went away cannot be told
}

// with finds the work that a question is about.
func (s *Server) with(h func(http.ResponseWriter, *http.Request, *work)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		work := s.sessions.get(r.PathValue("id"))
		if work == nil {
			refuse(w, http.StatusNotFound, errors.New("this work is not open any more: the bench was started again, or many tabs were opened since; open the file again"))
			return
		}
		h(w, r, work)
	}
}

// reply writes one JSON value.
func reply(w http.ResponseWriter, value any) {
	w.Header().Set("Content-Type", "application/json")
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(true)
	_ = enc.Encode(value) // a page that went away cannot be told
}

// refuse says in one line why there is no answer.
func refuse(w http.ResponseWriter, status int, err error) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]string{"error": plain.Line(err.Error())})
}

// question reads the JSON of a request; false when it was refused.
func question(w http.ResponseWriter, r *http.Request, into any) bool {
	body := http.MaxBytesReader(w, r.Body, largestQuestion)
	dec := json.NewDecoder(body)
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil && !errors.Is(err, io.EOF) {
		refuse(w, http.StatusBadRequest, fmt.Errorf("the page asked in a way that is not understood: %w", err))
		return false
	}
	return true
}

// open gives a tab its own look at the file of the command line.
func (s *Server) open(w http.ResponseWriter, _ *http.Request) {
	if s.first == nil {
		reply(w, map[string]any{"kind": "none"})
		return
	}
	reply(w, s.first.opened(s.sessions.add(s.first)))
}

// takeUpload opens files that were dropped or chosen.
func (s *Server) takeUpload(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, s.upload)
	dropped, err := readUpload(r)
	if tooLarge, ok := errors.AsType[*http.MaxBytesError](err); ok {
		refuse(w, http.StatusRequestEntityTooLarge, fmt.Errorf("more than %d MB at once is not taken; export the model coarser, or name it on the command line", tooLarge.Limit>>20))
		return
	}
	if err != nil {
		refuse(w, http.StatusBadRequest, err)
		return
	}
	from, err := shop.Dropped(dropped)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	s.openSource(w, r, from, nil)
}

// readUpload reads the files of a form, by their bare names.
func readUpload(r *http.Request) (map[string][]byte, error) {
	form, err := r.MultipartReader()
	if err != nil {
		return nil, err
	}
	dropped := map[string][]byte{}
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			return dropped, nil
		}
		if err != nil {
			return nil, err
		}
		name, data, err := readPart(part)
		if err != nil {
			return nil, err
		}
		if _, twice := dropped[name]; twice {
			return nil, fmt.Errorf("two files are called %s; open one of them", name)
		}
		dropped[name] = data
	}
}

func readPart(part *multipart.Part) (string, []byte, error) {
	var data bytes.Buffer
	if _, err := io.Copy(&data, part); err != nil {
		return "", nil, err
	}
	if data.Bytes() == nil {
		return shop.CleanName(part.FileName()), []byte{}, nil
	}
	return shop.CleanName(part.FileName()), data.Bytes(), nil
}

func (s *Server) openSource(w http.ResponseWriter, r *http.Request, from *shop.Source, ask *reading) {
	opened, err := open(r.Context(), from, ask, nil)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, errors.New(sentence(err)))
		return
	}
	reply(w, opened.opened(s.sessions.add(opened)))
}

// readAgain takes the same model in another unit, direction or kind. The earlier
// work stays until the page closes it.
func (s *Server) readAgain(w http.ResponseWriter, r *http.Request, now *work) {
	var ask reading
	if question(w, r, &ask) {
		s.openSource(w, r, now.source, &ask)
	}
}

func (s *Server) answer(w http.ResponseWriter, r *http.Request, now *work) {
	var ask settings
	if !question(w, r, &ask) {
		return
	}
	if k := now.kind(); k == "half" || k == "broken" {
		refuse(w, http.StatusUnprocessableEntity, errors.New("nothing is poured from this model: it is broken, or a mold half"))
		return
	}
	a, err := now.answer(r.Context(), ask)
	if err != nil {
		refuse(w, http.StatusServiceUnavailable, err)
		return
	}
	reply(w, a)
}

// split answers what the line as drawn gives to each colour of one bait.
func (s *Server) split(w http.ResponseWriter, r *http.Request, now *work) {
	var ask settings
	if !question(w, r, &ask) {
		return
	}
	parts, err := now.split(r.Context(), ask)
	if err != nil {
		refuse(w, http.StatusServiceUnavailable, err)
		return
	}
	reply(w, parts)
}

// Steps of the curve of volume by height. Where shells overlap each is three fills
// of the whole, so there are fewer.
const (
	curveSteps        = 100
	curveStepsOverlap = 24
)

func (s *Server) curve(w http.ResponseWriter, r *http.Request, now *work) {
	if !question(w, r, &struct{}{}) {
		return
	}
	if now.Job.Cavity == nil {
		reply(w, []struct{}{})
		return
	}
	steps := curveSteps
	if now.Measured == nil || *now.Measured.OverlapMM3 > 0 {
		steps = curveStepsOverlap
	}
	points, err := now.Job.Cavity.Curve(r.Context(), steps)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	reply(w, points)
}

func (s *Server) shape(w http.ResponseWriter, _ *http.Request, now *work) {
	if now.shape == nil {
		refuse(w, http.StatusNotFound, errors.New("there is no model to draw"))
		return
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	_, _ = w.Write(now.shape.encode()) // a page that went away cannot be told
}

func (s *Server) save(w http.ResponseWriter, r *http.Request, now *work) {
	var ask settings
	if !question(w, r, &ask) {
		return
	}
	d, err := now.download(r.Context(), r.PathValue("what"), ask)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, errors.New(sentence(err)))
		return
	}
	var out bytes.Buffer
	if err := d.write(&out); err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	w.Header().Set("Content-Type", d.kind)
	w.Header().Set("Content-Disposition", d.disposition())
	_, _ = w.Write(out.Bytes()) // a page that went away cannot be told
}
