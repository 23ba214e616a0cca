package bench

import (
	"context"
	"errors"
	"fmt"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
	"bellyline/laminate"
)

// parted is the bait parted by the line as drawn.
type parted struct {
	Split  *laminate.Split  `json:"split"` // as "split --json" prints it
	Rows   []row            `json:"rows"`  // the same as text, keys beginning with "split."
	Sheets []laminate.Sheet `json:"sheets"`
	Error  string           `json:"error"`
}

// split parts the bait. Only an end of ctx is an error.
func (w *work) split(ctx context.Context, s settings) (*parted, error) {
	out := &parted{Rows: []row{}, Sheets: []laminate.Sheet{}}
	split, err := w.splitBy(ctx, s)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		out.Error = sentence(err)
		return out, nil
	}
	out.Split, out.Sheets = split, split.Sheets()
	out.Rows = splitRows(split)
	return out, nil
}

func (w *work) splitBy(ctx context.Context, s settings) (*laminate.Split, error) {
	if w.Job.Cavity == nil || len(w.Mold.Colours) != 2 {
		return nil, errors.New("parts need a model and two colours")
	}
	lines, err := s.lines()
	if err != nil {
		return nil, err
	}
	return laminate.SplitBy(ctx, w.Job.Cavity, lines, 0)
}

// splitRows lists what each colour takes of the bait, where the lines lie, and
// what the colours join over.
func splitRows(s *laminate.Split) []row {
	var g group
	for i, c := range s.Colours {
		key := fmt.Sprintf("split.colours.%d.", i)
		g.add(key+"volume_mm3", c.Name, "of one bait", units.Volume(c.VolumeMM3/1000).Pair()).Large = true
		g.add(key+"share", c.Name, "share of the bait", units.Pair{Metric: fmt.Sprintf("%.1f %%", c.Share*100)})
		g.add(key+"outside_mm2", c.Name, "seen on the skin", document.AreaPair(c.OutsideMM2, 0))
	}
	for i, h := range s.Line.HeightsMM {
		label := placeWord(s.Line.Kind)
		if len(s.Line.HeightsMM) > 1 {
			label = fmt.Sprintf("line %d, %s", i+1, label)
		}
		g.add(fmt.Sprintf("split.line.heights_mm.%d", i), "", label, units.Length(h).Pair())
	}
	g.add("split.split_area_mm2", "", "the colours join over", document.AreaPair(s.SplitAreaMM2, 0))
	g.add("split.line_length_mm", "", "the line on the skin", units.Length(s.LineLengthMM).Pair())
	g.add("split.pieces", "", "pieces of the join", units.Pair{Metric: fmt.Sprint(s.Pieces)})
	return g.Rows
}

// placeWord says what the height of a line counts from.
func placeWord(kind laminate.Kind) string {
	switch kind {
	case laminate.KindTilted, laminate.KindDrawn:
		return "height in the model, at the middle of the bait"
	case laminate.KindCrosswise:
		return "place in the model, along the bait"
	case laminate.KindStripe:
		return "floor of the stripe, height in the model"
	}
	return "height in the model"
}
