package bench

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
)

// settings are all that the page can change. They go into the mold file in its own
// words and are read by its own reader, so that what is refused there is refused here.
type settings struct {
	HeightMM *float64     `json:"height_mm"` // of the line; null: by share
	Share    string       `json:"share"`     // belly to back, as written
	Tilt     tilt         `json:"tilt"`
	Injector string       `json:"injector"`
	Vessel   string       `json:"vessel"`
	Cavities int          `json:"cavities"`
	Baits    int          `json:"baits"` // 0: one shot
	Colours  []colourPart `json:"colours"`
	// Streams asks where the streams put the line, too, which takes seconds. It is
	// nothing that a mold file holds.
	Streams bool `json:"streams"`
}

// tilt turns the back direction, in degrees: towards the nose, and to the side.
type tilt struct {
	Fore float64 `json:"fore"`
	Side float64 `json:"side"`
}

// colourPart is what can be changed of one colour.
type colourPart struct {
	Name   string           `json:"name"`
	Barrel string           `json:"barrel"`
	Pour   string           `json:"pour"`
	Mix    []files.DoseText `json:"mix"`
}

// mostTilt is how far a line may be tilted; further is another back.
const mostTilt = 45

// initial are the settings as the mold file has them.
func (w *work) initial() settings {
	m := w.mold
	s := settings{Injector: m.Injector.Name, Vessel: m.Vessel.Name, Cavities: w.job.Cavities, Baits: m.Baits, Colours: []colourPart{}}
	if len(m.Colours) == 2 {
		if m.Line.ByHeight {
			h := m.Line.HeightMM
			s.HeightMM = &h
		} else {
			s.Share = strconv.FormatFloat(m.Line.BellyShare, 'f', -1, 64)
		}
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
	if s.Cavities != was.Cavities && w.mold.Halves == nil {
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
	for i, c := range w.mold.Colours {
		part, before := s.Colours[i], was.Colours[i]
		text := files.ColourText{Name: c.Name, Material: c.Mix.Plastisol.Name, Half: c.Half, Barrel: part.Barrel}
		if pour := w.mold.Shop.Materials[text.Material].Pour; part.Pour != heatText(pour) {
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
	text, err := files.Rewrite(moldKey, w.text, values)
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
	job := m.Job()
	job.Cavity, job.Feed, job.Streams = w.job.Cavity, w.job.Feed, s.Streams
	if m.Halves != nil { // it is for them to say
		job.Cavities = w.job.Cavities
	}
	if job.Line, err = s.line(len(m.Colours)); err != nil {
		return job, err
	}
	if job.Cavity != nil {
		job.Cavity, err = w.tiltedBy(s.Tilt)
	}
	return job, err
}

// line is the colour line that was asked for.
func (s settings) line(colours int) (laminate.Line, error) {
	switch {
	case colours != 2:
		return laminate.Line{}, nil
	case s.HeightMM != nil:
		return laminate.Line{ByHeight: true, HeightMM: *s.HeightMM}, nil
	}
	share, err := units.ParseShare(s.Share)
	return laminate.Line{BellyShare: share}, err
}

// mostTilted is how many tilted cavities are kept; each holds some 50 bytes a facet.
const mostTilted = 3

// tiltedBy is the cavity with its back tilted.
func (w *work) tiltedBy(t tilt) (*cavity.Cavity, error) {
	c := w.job.Cavity
	if t == (tilt{}) {
		return c, nil
	}
	if !(math.Abs(t.Fore) <= mostTilt && math.Abs(t.Side) <= mostTilt) {
		return nil, fmt.Errorf("a line is tilted by at most %d degrees; past that give the model another back", mostTilt)
	}
	w.mu.Lock()
	defer w.mu.Unlock() // the same tilt is worked out once
	if tilted := w.tilted[t]; tilted != nil {
		return tilted, nil
	}
	tilted, err := c.Upward(t.turn(c.Back, c.Nose))
	if err != nil {
		return nil, err
	}
	if len(w.tilted) >= mostTilted {
		clear(w.tilted)
	}
	w.tilted[t] = tilted
	return tilted, nil
}

// turn returns back turned towards the nose, then to the bait's left.
func (t tilt) turn(back, nose r3.Vector) r3.Vector {
	nose = nose.Sub(back.Mul(nose.Dot(back))).Normalize()
	left := back.Cross(nose)
	const degree = math.Pi / 180
	fore, side := math.Tan(t.Fore*degree), math.Tan(t.Side*degree)
	return back.Add(nose.Mul(fore)).Add(left.Mul(side))
}

// directionText writes a direction as a mold file takes it, every digit of it.
func directionText(d r3.Vector) string {
	for i, name := range [3]string{"x", "y", "z"} {
		switch [3]float64{d.X, d.Y, d.Z}[i] {
		case 1:
			return "+" + name
		case -1:
			return "-" + name
		}
	}
	return fmt.Sprintf("%.17g,%.17g,%.17g", d.X, d.Y, d.Z)
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
	if len(job.Colours) == 2 && !job.Line.Same(w.mold.Line) {
		values["line"] = files.LineText(job.Line)
	}
	if job.Cavity != nil && s.Tilt != (tilt{}) {
		if w.mold.Halves != nil {
			return nil, errors.New("a mold file with halves has its line along their pull; save it untilted")
		}
		values["back"] = files.Scalar(directionText(job.Cavity.Back))
	}
	return files.Rewrite(moldKey, w.text, values)
}
