package bench

import (
	"context"
	"errors"
	"strings"

	"bellyline/cavity"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/laminate"
	"bellyline/mesh/vector"
)

// answer is what the page shows for its settings: the pour as "pour --json" prints
// it, the same in rows, and where the line is to be drawn.
type answer struct {
	Pour  *laminate.Pour `json:"pour"`
	Sheet []group        `json:"sheet"`
	Line  *drawnLine     `json:"line"` // null without a model or with one colour
	// Error is why there is no pour: one sentence. The line may stand all the same.
	Error string `json:"error"`
	Note  string `json:"note"` // why nothing is poured though nothing is wrong
}

// drawnLine is the line as the page draws it. Heights are along the back.
type drawnLine struct {
	Back        [3]float64       `json:"back"`
	LowMM       float64          `json:"low_mm"` // of the bait
	HighMM      float64          `json:"high_mm"`
	AskedMM     *float64         `json:"asked_mm"`
	DeliveredMM *float64         `json:"delivered_mm"`
	Sheets      []laminate.Sheet `json:"sheets"` // as drawn; those of layers come with the parts
}

// answer works a pour out. Only an end of ctx is an error; what cannot be poured is
// said in the answer.
func (w *work) answer(ctx context.Context, s settings) (*answer, error) {
	a := &answer{Sheet: []group{}}
	job, err := w.jobFor(s)
	if err == nil {
		a.Pour, err = job.Pour(ctx)
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	switch {
	case errors.Is(err, errLayers):
		a.Note = sentence(err)
	case err != nil:
		a.Error = sentence(err)
	}
	if a.Pour != nil {
		a.Sheet = sheet(a.Pour)
	}
	if job.Cavity != nil && len(job.Colours) > 1 {
		a.Line = drawn(job.Cavity, a.Pour, s)
	}
	return a, nil
}

func drawn(c *cavity.Cavity, p *laminate.Pour, s settings) *drawnLine {
	l := &drawnLine{Back: vector.XYZ(c.Back()), AskedMM: s.HeightMM, Sheets: []laminate.Sheet{}}
	l.LowMM, l.HighMM = c.Heights()
	if p != nil && p.Line != nil {
		if p.Line.AskedMM != nil && s.Line.Kind != string(laminate.KindDrawn) { // how far a drawn line is moved is not its height
			l.AskedMM = p.Line.AskedMM
		}
		l.DeliveredMM = p.Line.DeliveredMM
		for _, course := range p.Line.Courses() {
			if course.Sheet != nil {
				l.Sheets = append(l.Sheets, *course.Sheet)
			}
		}
	}
	return l
}

// sentence says what is wrong in a line. The page shows no mold file, so the file
// and the number of the line go; the key stays.
func sentence(err error) string {
	if all, ok := errors.AsType[files.Errors](err); ok {
		var list []string
		for _, e := range all {
			list = append(list, sentence(e))
		}
		return strings.Join(list, "; ")
	}
	e, ok := errors.AsType[*files.Error](err)
	if !ok || e.File != shop.MoldKey {
		return err.Error()
	}
	key := e.Key[strings.LastIndex(e.Key, ".")+1:]
	if key == "" {
		return e.Msg
	}
	return key + ": " + e.Msg
}
