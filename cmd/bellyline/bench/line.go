package bench

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/golang/geo/r2"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
)

// linePart is the shape of the colour line, see laminate.Line; of a kind other than
// its own a number counts for nothing.
type linePart struct {
	Kind       string       `json:"kind"` // a line file's word for it, or layers for two level lines
	TiltDeg    float64      `json:"tilt_deg"`
	RollDeg    float64      `json:"roll_deg"`
	Points     [][2]float64 `json:"points_mm"` // along the nose direction, height
	Smooth     bool         `json:"smooth"`
	WidthMM    float64      `json:"width_mm"`
	AcrossMM   float64      `json:"across_mm"`
	DraftDeg   float64      `json:"draft_deg"`
	UpperMM    *float64     `json:"upper_mm"`    // of layers, the upper line; null: by share
	UpperShare string       `json:"upper_share"` // what lies below the upper line
}

// layers is the kind of two level lines, three colours.
const layers = "layers"

// errLayers is why layers are not poured.
var errLayers = errors.New("two barrels shoot two colours: three layers take a second shot, or a third barrel and a mold file with three colours. What each colour takes of the bait stands beside the line; cups, doses and a card are for one shot of two colours")

// lines are the lines that were asked for.
func (s settings) lines() ([]laminate.Line, error) {
	first, err := s.placed(laminate.Line{}, s.HeightMM, s.Share)
	if err != nil {
		return nil, err
	}
	if s.Line.Kind == layers {
		second, err := s.placed(laminate.Line{}, s.Line.UpperMM, s.Line.UpperShare)
		return []laminate.Line{first, second}, err
	}
	kind, err := files.LineKind(s.Line.Kind)
	if err != nil {
		return nil, err
	}
	switch first.Kind = kind; kind {
	case laminate.Level:
		first.Kind = "" // the plain line, as mold files give it
	case laminate.Tilted:
		first.TiltDeg, first.RollDeg = s.Line.TiltDeg, s.Line.RollDeg
	case laminate.Drawn:
		first.Smooth = s.Line.Smooth
		for _, p := range s.Line.Points {
			first.Points = append(first.Points, r2.Point{X: p[0], Y: p[1]})
		}
	case laminate.Stripe:
		first.WidthMM, first.AcrossMM, first.DraftDeg = s.Line.WidthMM, s.Line.AcrossMM, s.Line.DraftDeg
	case laminate.Crosswise:
	default:
		return nil, errNotDrawn(kind)
	}
	return []laminate.Line{first}, nil
}

func (s settings) placed(l laminate.Line, height *float64, share string) (laminate.Line, error) {
	if height != nil {
		l.ByHeight, l.HeightMM = true, *height
		return l, nil
	}
	var err error
	l.BellyShare, err = units.ParseShare(share)
	return l, err
}

// takeLine puts a line into settings.
func (s *settings) takeLine(l laminate.Line) {
	if l.ByHeight {
		h := l.HeightMM
		s.HeightMM = &h
	} else {
		s.Share = strconv.FormatFloat(l.BellyShare, 'f', -1, 64)
	}
	s.Line = linePart{
		Kind: files.LineWord(l.Kind), TiltDeg: l.TiltDeg, RollDeg: l.RollDeg, Points: [][2]float64{}, Smooth: l.Smooth,
		WidthMM: l.WidthMM, AcrossMM: l.AcrossMM, DraftDeg: l.DraftDeg,
	}
	for _, p := range l.Points {
		s.Line.Points = append(s.Line.Points, [2]float64{p.X, p.Y})
	}
}

// errNotDrawn refuses lines that the bench does not show.
func errNotDrawn(kind laminate.Kind) error {
	return fmt.Errorf("the bench shows no line of the kind %s; ask bellyline split --line", kind)
}

// findTilt replaces a hinge by the tilt that it asks for, which can then be dragged.
func (w *work) findTilt(ctx context.Context) error {
	w.line = w.mold.Line
	if w.line.Hinge == nil || w.job.Cavity == nil {
		return nil
	}
	split, err := laminate.SplitBy(ctx, w.job.Cavity, []laminate.Line{w.line}, 0)
	if err != nil {
		return err
	}
	w.line.Hinge, w.line.TiltDeg = nil, *split.Line.TiltDeg
	return nil
}
