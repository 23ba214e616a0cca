package bench

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/laminate"
)

// settings are all that the page can change. They go into the mold file in its own
// words and are read by its own reader, so that what is refused there is refused here.
type settings struct {
	HeightMM *float64     `json:"height_mm"` // the line's place, see laminate.Line; null: by share
	Share    string       `json:"share"`     // of the first colour, as written
	Line     linePart     `json:"line"`
	Injector string       `json:"injector"`
	Vessel   string       `json:"vessel"`
	Cavities int          `json:"cavities"`
	Baits    int          `json:"baits"` // 0: one shot
	Colours  []colourPart `json:"colours"`
	// Streams asks where the streams put the line, too, which takes seconds. It is
	// nothing that a mold file holds.
	Streams bool `json:"streams"`
}

// colourPart is what can be changed of one colour.
type colourPart struct {
	Name   string           `json:"name"`
	Barrel string           `json:"barrel"`
	Pour   string           `json:"pour"`
	Mix    []files.DoseText `json:"mix"`
}

// initial are the settings as the mold file has them.
func (w *work) initial() settings {
	m := w.Mold
	s := settings{Injector: m.Injector.Name, Vessel: m.Vessel.Name, Cavities: w.Job.Cavities, Baits: m.Baits, Colours: []colourPart{}}
	s.Line.Points = [][2]float64{}
	if len(w.lines) == 1 {
		s.takeLine(w.lines[0])
	}
	for i, c := range m.Colours {
		part := colourPart{Name: c.Name, Barrel: m.Injector.Barrels[i].Name, Pour: heatText(c.Mix.Plastisol.Pour), Mix: []files.DoseText{}}
		for _, d := range c.Mix.Doses {
			part.Mix = append(part.Mix, files.DoseText{Additive: d.Additive.Name, PerCup: d.PerCup.String()})
		}
		s.Colours = append(s.Colours, part)
	}
	return s
}

// heatText writes a temperature in F, to a tenth at most.
func heatText(c units.Celsius) string {
	return strconv.FormatFloat(math.Round(c.F()*10)/10, 'f', -1, 64) + "F"
}

// changes are the keys of the mold file that settings change, but for its line.
func (w *work) changes(s settings) (map[string]string, error) {
	was := w.initial()
	if len(s.Colours) != len(was.Colours) {
		return nil, errors.New("the page and the mold file do not have the same colours; open the file again")
	}
	values := map[string]string{}
	if s.Injector != was.Injector {
		values["injector"] = files.Scalar(s.Injector)
	}
	if s.Vessel != was.Vessel {
		values["vessel"] = files.Scalar(s.Vessel)
	}
	if s.Cavities != was.Cavities && w.Mold.Halves == nil {
		values["cavities"] = strconv.Itoa(s.Cavities)
	}
	if s.Baits != was.Baits {
		values["order"] = map[bool]string{true: "", false: strconv.Itoa(s.Baits)}[s.Baits == 0]
	}
	if text := w.coloursText(s, was); text != "" {
		values["colours"] = text
	}
	return values, nil
}

// coloursText is the mold file's colours with what was changed, empty when nothing was.
func (w *work) coloursText(s, was settings) string {
	var list []files.ColourText
	changed := false
	for i, c := range w.Mold.Colours {
		part, before := s.Colours[i], was.Colours[i]
		text := files.ColourText{Name: c.Name, Material: c.Mix.Plastisol.Name, Half: c.Half, Barrel: part.Barrel}
		if pour := w.Mold.Shop.Materials[text.Material].Pour; part.Pour != heatText(pour) {
			text.Pour = part.Pour
		}
		for _, d := range part.Mix {
			if strings.TrimSpace(d.PerCup) != "" {
				text.Mix = append(text.Mix, d)
			}
		}
		changed = changed || part.Barrel != before.Barrel || part.Pour != before.Pour || !sameDoses(text.Mix, before.Mix)
		list = append(list, text)
	}
	if !changed {
		return ""
	}
	return files.ColoursText(list)
}

func sameDoses(a, b []files.DoseText) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// mostRecent is how many readings of the mold file are kept.
const mostRecent = 32

// changed reads the mold file with some keys changed; while a line is dragged they
// are the same again and again.
func (w *work) changed(values map[string]string) (*files.Mold, error) {
	key, err := json.Marshal(values)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	m := w.recent[string(key)]
	w.mu.Unlock()
	if m != nil {
		return m, nil
	}
	text, err := files.Rewrite(shop.MoldKey, w.text, values)
	if err != nil {
		return nil, err
	}
	if m, err = w.read(text); err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.recent) >= mostRecent {
		clear(w.recent)
	}
	w.recent[string(key)] = m
	return m, nil
}

// jobFor is the job with all settings in it.
func (w *work) jobFor(s settings) (laminate.Job, error) {
	values, err := w.changes(s)
	if err != nil {
		return laminate.Job{}, err
	}
	m, err := w.changed(values)
	if err != nil {
		return laminate.Job{}, err
	}
	job := w.JobOf(m)
	job.Streams = s.Streams
	if len(job.Lines) != 1 { // the page moves one
		return job, nil
	}
	if job.Lines, err = s.lines(); err == nil && len(job.Lines) > 1 {
		err = errLayers
	}
	return job, err
}

// moldText is the mold file with all settings in it.
func (w *work) moldText(s settings) ([]byte, error) {
	job, err := w.jobFor(s)
	if err != nil {
		return nil, err
	}
	values, err := w.changes(s)
	if err != nil {
		return nil, err
	}
	if len(job.Lines) == 1 && !job.Lines[0].Same(w.lines[0]) {
		values["line"] = files.LineText(job.Lines[0])
	}
	return files.Rewrite(shop.MoldKey, w.text, values)
}
