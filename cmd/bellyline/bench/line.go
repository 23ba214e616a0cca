package bench

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"bellyline/cavity/units"
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
	level := laminate.Level{}
	if s.Line.Kind == layers {
		first, err := placed(level, s.HeightMM, s.Share)
		if err != nil {
			return nil, err
		}
		second, err := placed(level, s.Line.UpperMM, s.Line.UpperShare)
		return []laminate.Line{first, second}, err
	}
	boundary, err := s.Line.boundary()
	if err != nil {
		return nil, err
	}
	line, err := placed(boundary, s.HeightMM, s.Share)
	return []laminate.Line{line}, err
}

// boundary is what a part of the page asks for, its place left out.
func (l linePart) boundary() (laminate.Boundary, error) {
	switch kind := laminate.Kind(strings.ToLower(l.Kind)); kind {
	case laminate.KindLevel:
		return laminate.Level{}, nil
	case laminate.KindTilted:
		return laminate.Tilted{TiltDeg: l.TiltDeg, RollDeg: l.RollDeg}, nil
	case laminate.KindDrawn:
		drawn := laminate.Drawn{Smooth: l.Smooth}
		for _, p := range l.Points {
			drawn.Points = append(drawn.Points, r2.Point{X: p[0], Y: p[1]})
		}
		return drawn, nil
	case laminate.KindStripe:
		return laminate.Stripe{WidthMM: l.WidthMM, AcrossMM: l.AcrossMM, DraftDeg: l.DraftDeg}, nil
	case laminate.KindCrosswise:
		return laminate.Crosswise{}, nil
	default:
		return nil, errNotDrawn(kind)
	}
}

func placed(b laminate.Boundary, height *float64, share string) (laminate.Line, error) {
	if height != nil {
		return laminate.Line{Boundary: b.At(*height), ByPlace: true}, nil
	}
	asked, err := units.ParseShare(share)
	return laminate.Line{Boundary: b, Share: asked}, err
}

// takeLine puts a line into settings.
func (s *settings) takeLine(l laminate.Line) {
	if l.ByPlace {
		h := l.Boundary.PlaceMM()
		s.HeightMM = &h
	} else {
		s.Share = strconv.FormatFloat(l.Share, 'f', -1, 64)
	}
	s.Line = linePart{Kind: string(l.Kind()), Points: [][2]float64{}}
	switch b := l.Boundary.(type) {
	case laminate.Tilted:
		s.Line.TiltDeg, s.Line.RollDeg = b.TiltDeg, b.RollDeg
	case laminate.Drawn:
		s.Line.Smooth = b.Smooth
		for _, p := range b.Points {
			s.Line.Points = append(s.Line.Points, [2]float64{p.X, p.Y})
		}
	case laminate.Stripe:
		s.Line.WidthMM, s.Line.AcrossMM, s.Line.DraftDeg = b.WidthMM, b.AcrossMM, b.DraftDeg
	}
}

// errNotDrawn refuses lines that the bench does not show.
func errNotDrawn(kind laminate.Kind) error {
	return fmt.Errorf("the bench shows no line of the kind %s; ask bellyline split --line", kind)
}

// findTilt replaces a hinge by the tilt that it asks for, which can then be dragged.
func (w *work) findTilt(ctx context.Context) error {
	w.lines = slices.Clone(w.Mold.Lines)
	for i, line := range w.lines {
		tilted, _ := line.Boundary.(laminate.Tilted)
		if tilted.Hinge == nil || w.Job.Cavity == nil {
			continue
		}
		split, err := laminate.SplitBy(ctx, w.Job.Cavity, []laminate.Line{line}, 0)
		if err != nil {
			return err
		}
		w.lines[i].Boundary = laminate.Tilted{TiltDeg: *split.Line.TiltDeg, RollDeg: tilted.RollDeg}
	}
	return nil
}
