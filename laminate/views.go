package laminate

import (
	"context"
	"errors"
	"math"
	"slices"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/vector"
)

// Views is a bait seen from the side and cut across in three places, to be drawn: in
// mm along its nose direction or to its left, and along its back.
type Views struct {
	Side     []Reach       // from the tail on
	Sections []CutAcross   // from the tail on
	Lines    []DrawnLine   // as they will lie, from below
	Asked    *[][2]float64 // the line as drawn, seen from the side; nil where it is one of Lines
}

// Reach is how far the bait reaches up and down at a place along it.
type Reach struct{ AlongMM, LowMM, HighMM float64 }

// CutAcross is a section across the bait; plastic is where its loops wind round once or
// more.
type CutAcross struct {
	AlongMM float64
	Loops   [][][2]float64
}

// DrawnLine is a line in the side view, through the middle of the bait, and in each
// section: polygons round what lies below it, reaching past the bait.
type DrawnLine struct {
	Side     [][2]float64
	Sections [][][2]float64
}

// viewPlaces is how many places along the bait its side view has, and along a line.
const viewPlaces = 80

// views draws what the pour gives: a line that barrels cannot lay as it is drawn, all
// others where they are delivered. It costs a pass over the facets and three cuts.
func (j Job) views(ctx context.Context, p *Pour) (*Views, error) {
	f, errFrame := j.Cavity.Frame()
	if errors.Is(errFrame, cavity.ErrFrame) { // a picture needs to know which way the nose points; a card is whole without
		return nil, ctx.Err()
	}
	v := &Views{Side: j.reaches(f)}
	if len(v.Side) < 2 {
		return nil, nil
	}
	from, to := v.Side[0].AlongMM, v.Side[len(v.Side)-1].AlongMM
	for _, part := range [3]float64{0.15, 0.45, 0.75} {
		cut, err := j.cutAcross(f, from+part*(to-from))
		if err != nil || ctx.Err() != nil {
			return nil, ctx.Err() // without this picture a card is whole
		}
		v.Sections = append(v.Sections, cut)
	}
	for _, s := range j.sheetsToDraw(p) {
		v.Lines = append(v.Lines, j.drawnLine(s, f, v))
	}
	if l := p.Line; l != nil && l.Sheet != nil && l.Needs == "" && len(v.Lines) == 1 {
		asked := j.profile(*l.Sheet, f, from, to)
		v.Asked = &asked
	}
	return v, nil
}

// sheetsToDraw are the lines as they will lie, from below.
func (j Job) sheetsToDraw(p *Pour) []Sheet {
	if p.Line == nil || p.Across != nil {
		return nil
	}
	var list []Sheet
	for _, c := range p.Line.Courses() {
		switch {
		case c.DeliveredMM != nil:
			list = append(list, flatSheet(j.Cavity.Back(), *c.DeliveredMM))
		case c.Sheet != nil:
			list = append(list, *c.Sheet)
		}
	}
	return list
}

// reaches finds the lowest and highest points at places along the bait.
func (j Job) reaches(f cavity.Frame) []Reach {
	m := j.Cavity.Mesh
	low, high := m.Span(f.Nose)
	list := make([]Reach, viewPlaces+1)
	for i := range list {
		list[i] = Reach{low + (high-low)*float64(i)/viewPlaces, math.Inf(1), math.Inf(-1)}
	}
	for _, t := range m.Triangles {
		for k := range 3 {
			a, b := m.Vertices[t[k]], m.Vertices[t[(k+1)%3]]
			x0, x1, h0, h1 := f.Nose.Dot(a), f.Nose.Dot(b), f.Back.Dot(a), f.Back.Dot(b)
			if x1 < x0 {
				x0, x1, h0, h1 = x1, x0, h1, h0
			}
			for i := max(0, int(math.Ceil((x0-low)/(high-low)*viewPlaces))); i < len(list) && list[i].AlongMM <= x1; i++ {
				h := h0
				if x1 > x0 {
					h += (h1 - h0) * (list[i].AlongMM - x0) / (x1 - x0)
				}
				list[i].LowMM, list[i].HighMM = min(list[i].LowMM, h), max(list[i].HighMM, h)
			}
		}
	}
	return slices.DeleteFunc(list, func(r Reach) bool { return r.LowMM > r.HighMM })
}

func (j Job) cutAcross(f cavity.Frame, along float64) (CutAcross, error) {
	cut, err := j.Cavity.Mesh.Cut(mesh.Plane{Normal: f.Nose, HeightMM: along})
	out := CutAcross{AlongMM: along}
	if err != nil {
		return out, err
	}
	for _, loop := range cut.Loops {
		var points [][2]float64
		for _, p := range loop {
			points = append(points, [2]float64{f.Left.Dot(p), f.Back.Dot(p)})
		}
		out.Loops = append(out.Loops, points)
	}
	return out, nil
}

// drawnLine encloses what lies below a sheet in each view.
func (j Job) drawnLine(s Sheet, f cavity.Frame, v *Views) DrawnLine {
	low, high := j.Cavity.Heights()
	base, top := low-(high-low), high+(high-low)
	from, to := v.Side[0].AlongMM-1, v.Side[len(v.Side)-1].AlongMM+1
	left, right := j.Cavity.Mesh.Span(f.Left)
	var line DrawnLine
	if at, upright := s.upright(f); upright {
		line.Side = [][2]float64{{from, base}, {at, base}, {at, top}, {from, top}}
		for _, cut := range v.Sections {
			all := [][2]float64{}
			if cut.AlongMM < at {
				all = [][2]float64{{left - 1, base}, {right + 1, base}, {right + 1, top}, {left - 1, top}}
			}
			line.Sections = append(line.Sections, all)
		}
		return line
	}
	line.Side = closedBelow(j.profile(s, f, from, to), base)
	for _, cut := range v.Sections {
		var points [][2]float64
		for _, y := range placesAlong(s, left-1, right+1) {
			points = append(points, [2]float64{y, s.over(f, cut.AlongMM, y)})
		}
		line.Sections = append(line.Sections, closedBelow(points, base))
	}
	return line
}

// profile is the line of a sheet seen from the side, in the middle of the bait.
func (j Job) profile(s Sheet, f cavity.Frame, from, to float64) [][2]float64 {
	middle := middleOf(j.Cavity, f.Left)
	var points [][2]float64
	for _, x := range placesAlong(s, from, to) {
		points = append(points, [2]float64{x, s.over(f, x, middle)})
	}
	return points
}

// placesAlong are places at even distances, and those at which a sheet bends.
func placesAlong(s Sheet, from, to float64) []float64 {
	places := []float64{from, to}
	if len(s.Knots) > 1 {
		for i := range viewPlaces {
			places = append(places, from+(to-from)*float64(i)/viewPlaces)
		}
		for _, k := range s.Knots {
			if k[0] > from && k[0] < to {
				places = append(places, k[0])
			}
		}
	}
	slices.Sort(places)
	return places
}

func closedBelow(line [][2]float64, base float64) [][2]float64 {
	return append(slices.Clone(line), [2]float64{line[len(line)-1][0], base}, [2]float64{line[0][0], base})
}

// upright tells whether a sheet stands across the bait, and where.
func (s Sheet) upright(f cavity.Frame) (at float64, yes bool) {
	const least = 1e-6
	up := s.Up[0]*f.Back.X + s.Up[1]*f.Back.Y + s.Up[2]*f.Back.Z
	return s.Knots[0][1], math.Abs(up) < least
}

// over returns how high a sheet lies over a place along the bait and to its left.
func (s Sheet) over(f cavity.Frame, along, across float64) float64 {
	foot := vector.XYZ(f.Nose.Mul(along).Add(f.Left.Mul(across)))
	dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	return (s.HeightAt(dot(s.Along, foot)) - dot(s.Up, foot)) / dot(s.Up, vector.XYZ(f.Back))
}
