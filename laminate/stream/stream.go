package stream

import (
	"context"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/mesh/vector"
)

// Result is where the line lands, and what matters for it.
type Result struct {
	File      string     `json:"model"`
	NoseIs    [3]float64 `json:"nose"`
	BackIs    [3]float64 `json:"back"`
	FromTail  bool       `json:"gate_at_tail"`
	OnPath    bool       `json:"along_path"` // x_mm is then the way along it, from the gate on
	BackFeed  float64    `json:"back_feed"`  // of what the barrels deliver
	Ratio     Ratio      `json:"viscosity_ratio"`
	BackShare float64    `json:"back_share"` // of the cavity's volume, as delivered
	VolumeMM3 float64    `json:"volume_mm3"`

	DrawnMM            float64       `json:"drawn_mm"`
	MeanMM             *float64      `json:"mean_line_mm"`
	LineRiseMM         *float64      `json:"line_rise_mm"` // mean over the volume, against the drawn line; null where one colour is everywhere alone
	Stations           []Station     `json:"stations"`
	Lost               []Lost        `json:"lost"`
	Skin               SkinSummary   `json:"skin"`
	Effects            []Effect      `json:"effects"`
	TemperatureMatters bool          `json:"temperature_matters"` // ten degrees C between the colours
	Agree              Agreement     `json:"agree"`
	Runner             []RunnerPart  `json:"runner"`
	Filling            *Filling      `json:"filling"`  // null unless a push was given
	Sections           []SectionView `json:"sections"` // three of them, as drawn
	Cells              int           `json:"cells_across"`
	Warnings           []string      `json:"warnings"`
	Limits             []string      `json:"limits"`
}

// Station is one section along the way of the flow.
type Station struct {
	XMM           float64  `json:"x_mm"` // along the nose direction, model coordinates
	AreaMM2       float64  `json:"area_mm2"`
	LowMM         float64  `json:"low_mm"` // lowest and highest point of the largest piece
	HighMM        float64  `json:"high_mm"`
	LineMM        *float64 `json:"line_mm"`     // of the largest piece; null where one colour is alone
	LineLowMM     *float64 `json:"line_low_mm"` // band from the viscosities' band
	LineHighMM    *float64 `json:"line_high_mm"`
	RiseMM        *float64 `json:"rise_mm"` // over the drawn line
	BackAreaShare float64  `json:"back_area_share"`
	BackFlowShare float64  `json:"back_flow_share"`
	BackMM        float64  `json:"back_mm"` // how thick each colour is at most in the largest piece
	BellyMM       float64  `json:"belly_mm"`
	SkinMM        float64  `json:"skin_mm"`
	Resolved      bool     `json:"resolved"` // no stream there is thinner than four cells
	Pieces        []Piece  `json:"pieces"`
}

// Piece is a connected part of a station's section.
type Piece struct {
	AreaMM2       float64  `json:"area_mm2"`
	LineMM        *float64 `json:"line_mm"`
	BackAreaShare float64  `json:"back_area_share"`
	BackFlowShare float64  `json:"back_flow_share"`
	FlowShare     float64  `json:"flow_share"`   // of all flow that passes the station
	InscribedMM   float64  `json:"inscribed_mm"` // diameter of the largest circle within

	source *piece
}

// Lost is a stretch in which a colour is too thin to be seen, or absent.
type Lost struct {
	Colour string  `json:"colour"`
	FromMM float64 `json:"from_mm"`
	ToMM   float64 `json:"to_mm"`
	WideMM float64 `json:"thickest_mm"` // there
	Part   string  `json:"part"`        // body, or branch where the bait has parted
}

// SkinSummary is the layer that the front lays over one colour's face.
type SkinSummary struct {
	Over      string  `json:"over"` // the colour whose face it covers, laid by the other; empty when there is none
	MeanMM    float64 `json:"mean_mm"`
	MostMM    float64 `json:"most_mm"`
	FaceShare float64 `json:"face_share"` // of that face on which it is thick enough to be seen
	SeenMM    float64 `json:"seen_from_mm"`
}

// Run works a cavity out. Cost: one cut a station; one solution of a section's flow
// a piece for equal viscosities, else three to six.
func Run(ctx context.Context, c *cavity.Cavity, cond Conditions) (*Result, error) {
	cond = cond.withDefaults()
	if err := cond.check(); err != nil {
		return nil, err
	}
	f, err := c.Frame()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	r := &Result{
		File: c.Name, NoseIs: vector.XYZ(f.Nose), BackIs: vector.XYZ(f.Back),
		FromTail: cond.FromTail, OnPath: len(cond.Path) > 0, BackFeed: cond.BackFeed, Ratio: cond.Ratio, VolumeMM3: c.FillMM3,
		Lost: []Lost{}, Runner: []RunnerPart{}, Warnings: append([]string{}, c.Warnings...), Limits: Limits(),
	}
	if err := r.runner(cond); err != nil {
		return nil, err
	}
	if err := r.drawn(ctx, c, cond); err != nil {
		return nil, err
	}
	ways := alongNose(c, f, cond.Stations, cond.FromTail)
	if len(cond.Path) > 0 {
		if ways, err = alongPath(f, cond.Path, cond.Stations); err != nil {
			return nil, err
		}
	}
	stations, err := cutStations(ctx, c, ways, cond.Grid)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	n, err := connect(ctx, stations, len(cond.Path) > 0)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	if err := n.share(cond.BackFeed, cond.Ratio.Back); err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	if err := n.partAll(ctx, cond.Ratio.Back); err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	r.Cells = n.root.solver.opts.CellsAcross
	r.tabulate(n, cond)
	r.Sections = n.views()
	r.loseColours(cond)
	r.Effects = []Effect{}
	if !cond.LineOnly {
		if err := r.sensitivities(ctx, n, c, cond); err != nil {
			return nil, fmt.Errorf("%s: %w", c.Name, err)
		}
	}
	if cond.Push != nil {
		r.Filling = r.fill(n, cond)
	}
	r.TemperatureMatters = r.temperatureMatters()
	r.warn()
	return r, nil
}

func (r *Result) runner(cond Conditions) error {
	for _, d := range cond.Runner {
		part, err := d.flow(cond.BackFeed, cond.Ratio.Back, cond.Grid)
		if err != nil {
			return err
		}
		r.Runner = append(r.Runner, part)
	}
	r.BackShare = CavityShare(cond.BackFeed, r.VolumeMM3*float64(cond.Cavities), r.Runner)
	if !(r.BackShare > 0 && r.BackShare < 1) {
		return fmt.Errorf("%w: the runner holds so much more than the bait that one colour would all stay in it; check its sizes", ErrConditions)
	}
	return nil
}

// drawn finds the line that a drawing would show: where the volume above it is
// what the back delivers, unless a height was given.
func (r *Result) drawn(ctx context.Context, c *cavity.Cavity, cond Conditions) error {
	if cond.DrawnMM == nil {
		h, err := c.HeightFor(ctx, 1-r.BackShare)
		r.DrawnMM = h
		return err
	}
	r.DrawnMM = *cond.DrawnMM
	if low, high := c.Heights(); !(r.DrawnMM > low && r.DrawnMM < high) {
		return fmt.Errorf("%s: %w: the line at %.3f mm misses the bait, which reaches from %.3f to %.3f mm", c.Name, ErrConditions, r.DrawnMM, low, high)
	}
	return nil
}

// partAll finds the line in every piece in which both colours flow.
func (n *network) partAll(ctx context.Context, ratio float64) error {
	return forEach(ctx, len(n.pieces), func(i int) error { return n.pieces[i].part(ratio) })
}

// tabulate lists the stations and takes means over the volume.
func (r *Result) tabulate(n *network, cond Conditions) {
	total := 0.0
	for _, s := range n.stations {
		for _, p := range s.pieces {
			total += p.volume(n.stations)
		}
	}
	var lines mean
	skins := map[bool]*skinSum{true: {}, false: {}}
	filled := 0.0
	for i := range n.stations {
		s := &n.stations[i]
		if len(s.pieces) == 0 {
			continue
		}
		own := 0.0
		for _, p := range s.pieces {
			own += p.volume(n.stations)
		}
		st, skin := s.show(r.DrawnMM, (filled+own/2)/total, cond.ShowsMM)
		filled += own
		r.Stations = append(r.Stations, st)
		if st.LineMM != nil {
			lines.add(*st.LineMM, own)
			skins[skin.OverBelow].add(skin, s.length)
		}
	}
	r.Skin = summarize(skins, cond.ShowsMM)
	if lines.weight > 0 {
		m := lines.value()
		rise := m - r.DrawnMM
		r.MeanMM, r.LineRiseMM = &m, &rise
	}
}

// mean is a weighted one.
type mean struct{ sum, weight float64 }

func (m *mean) add(x, weight float64) { m.sum, m.weight = m.sum+x*weight, m.weight+weight }

func (m *mean) value() float64 {
	if m.weight == 0 {
		return 0
	}
	return m.sum / m.weight
}

// skinSum adds up skins over one colour's face along the bait.
type skinSum struct{ volume, face, shown, most float64 }

func (s *skinSum) add(k Skin, length float64) {
	s.volume += k.MeanMM * k.FaceMM * length
	s.face += k.FaceMM * length
	s.shown += k.ShownMM * length
	s.most = max(s.most, k.MeanMM)
}

// summarize tells of the face on which more is laid.
func summarize(skins map[bool]*skinSum, shows float64) SkinSummary {
	out := SkinSummary{SeenMM: shows}
	overBelow := skins[true].volume >= skins[false].volume
	s := skins[overBelow]
	if s.volume == 0 {
		return out
	}
	out.Over = map[bool]string{true: "belly", false: "back"}[overBelow]
	out.MeanMM, out.MostMM, out.FaceShare = s.volume/s.face, s.most, s.shown/s.face
	return out
}

// show is a station as it is listed.
func (s *station) show(drawn, filled, shows float64) (Station, Skin) {
	main := s.main()
	st := Station{XMM: s.x, LowMM: main.solver.low, HighMM: main.solver.high, Resolved: true}
	back, flow, carried := 0.0, 0.0, 0.0
	for _, p := range s.pieces {
		carried += p.carries
	}
	for _, p := range s.pieces {
		one := Piece{AreaMM2: p.solver.area, BackFlowShare: p.back, BackAreaShare: math.Round(p.back), InscribedMM: p.solver.inscribed, FlowShare: p.carries / carried, source: p}
		if p.parting != nil {
			h := p.parting.HeightMM
			one.LineMM, one.BackAreaShare = &h, 1-p.parting.BelowAreaShare
			st.Resolved = st.Resolved && p.parting.Resolved()
		}
		st.AreaMM2 += p.solver.area
		back += one.BackAreaShare * p.solver.area
		flow += p.back * p.carries
		st.Pieces = append(st.Pieces, one)
	}
	st.BackAreaShare, st.BackFlowShare = back/st.AreaMM2, flow/carried
	if main.parting == nil {
		whole := main.solver.high - main.solver.low
		st.BackMM, st.BellyMM = whole*math.Round(main.back), whole*(1-math.Round(main.back))
		return st, Skin{}
	}
	h := main.parting.HeightMM
	rise := h - drawn
	st.LineMM, st.RiseMM = &h, &rise
	st.BackMM, st.BellyMM = main.parting.AboveMM, main.parting.BelowMM
	skin := main.parting.Skin(filled, shows)
	st.SkinMM = skin.MeanMM
	return st, skin
}

// Limits says what the model leaves out.
func Limits() []string {
	return []string{
		"Left out: elasticity, freezing at the walls, swirl at the gate, air. The flow is taken as developed and slow.",
		"The skin is an estimate, each upright line of a section for itself.",
		"A trial shot decides.",
	}
}
