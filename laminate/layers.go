package laminate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// LayerLine is one of the level lines between three colours and more, as drawn and as
// the barrels put it. Shares are of all colours below it; heights as in LineResult.
type LayerLine struct {
	Below          string   `json:"below"` // the colours that meet in it
	Above          string   `json:"above"`
	AskedShare     float64  `json:"asked_share"`
	DeliveredShare float64  `json:"delivered_share"`
	AskedMM        *float64 `json:"asked_mm"`
	DeliveredMM    *float64 `json:"delivered_mm"`
	AskedUpMM      *float64 `json:"asked_up_mm"`
	DeliveredUpMM  *float64 `json:"delivered_up_mm"`
	SplitAreaMM2   *float64 `json:"split_area_mm2"`
	LineLengthMM   *float64 `json:"line_length_mm"`
	Pieces         *int     `json:"pieces"`
}

// checkShares says whether three colours and more have shares that can be.
func (j Job) checkShares() error {
	if len(j.Shares) != len(j.Colours) {
		return fmt.Errorf("%w: %d colours need a share each, not %d shares", ErrJob, len(j.Colours), len(j.Shares))
	}
	sum := 0.0
	for i, s := range j.Shares {
		if !(s >= leastShare && s < 1) {
			return fmt.Errorf("%w: the share of %s lies between 0 and 1, not %g", ErrJob, j.Colours[i].Name, s)
		}
		sum += s
	}
	if !(math.Abs(sum-1) <= 1e-9) { // rounding of whoever divided them
		return fmt.Errorf("%w: the shares of all colours make %g, and must make 1", ErrJob, sum)
	}
	return nil
}

// layers finds the lines between three colours and more, as drawn and as delivered.
func (j Job) layers(ctx context.Context, shares []float64) (*LineResult, error) {
	l := &LineResult{Kind: KindLevel, AskedShare: j.Shares[0], DeliveredShare: shares[0]}
	asked, delivered := 0.0, 0.0
	for i := range len(j.Colours) - 1 {
		asked, delivered = asked+j.Shares[i], delivered+shares[i]
		if shares[i] < leastShare || 1-delivered < leastShare {
			return nil, fmt.Errorf("%w: its bores leave a colour a share of %.2g", ErrInjector, min(shares[i], 1-delivered))
		}
		line := LayerLine{Below: j.Colours[i].Name, Above: j.Colours[i+1].Name, AskedShare: asked, DeliveredShare: delivered}
		if j.Cavity != nil {
			if err := line.place(ctx, j.Cavity); err != nil {
				return nil, err
			}
		}
		l.Layers = append(l.Layers, line)
	}
	l.addUp()
	return l, nil
}

func (l *LayerLine) place(ctx context.Context, c *cavity.Cavity) error {
	asked, err := c.HeightFor(ctx, l.AskedShare)
	if err != nil {
		return err
	}
	delivered, err := c.HeightFor(ctx, l.DeliveredShare)
	if err != nil {
		return err
	}
	s, err := c.Level(ctx, delivered)
	if err != nil {
		return err
	}
	low, _ := c.Heights()
	askedUp, deliveredUp := asked-low, delivered-low
	l.AskedMM, l.AskedUpMM, l.DeliveredMM, l.DeliveredUpMM = &asked, &askedUp, &delivered, &deliveredUp
	l.SplitAreaMM2, l.LineLengthMM, l.Pieces = &s.AreaMM2, &s.OutlineMM, &s.Pieces
	return nil
}

// addUp gives the result the heights of its lowest line and the sums of all.
func (l *LineResult) addUp() {
	first := l.Layers[0]
	l.AskedMM, l.AskedUpMM, l.DeliveredMM, l.DeliveredUpMM = first.AskedMM, first.AskedUpMM, first.DeliveredMM, first.DeliveredUpMM
	if first.SplitAreaMM2 == nil {
		return
	}
	area, length, pieces := 0.0, 0.0, 0
	for _, line := range l.Layers {
		area, length, pieces = area+*line.SplitAreaMM2, length+*line.LineLengthMM, pieces+*line.Pieces
	}
	l.SplitAreaMM2, l.LineLengthMM, l.Pieces = &area, &length, &pieces
}

// agreeOnLayers is agree for three colours and more: bores are those beside the first
// barrel, which is kept.
func (r recipe) agreeOnLayers() *Agreement {
	a := &Agreement{BoreAreaRatio: r.Job.Shares[0] / r.Job.Shares[1]}
	hand := r
	hand.shares, hand.fixed = r.Job.Shares, false
	hand.cavML = hand.cavityML()
	shot := hand.shot()
	a.ByHandFits = r.Injector.smallestLoad(shot) >= 1
	barrels := r.Injector.Barrels
	if slices.ContainsFunc(barrels, func(b Barrel) bool { return b.BoreMM == 0 }) {
		return a
	}
	for i, b := range barrels {
		given := math.Pow(b.BoreMM/barrels[0].BoreMM, 2)
		if r.fixed {
			given = r.shares[i] / r.shares[0]
		}
		want := r.Job.Shares[i] / r.Job.Shares[0]
		a.Bores = append(a.Bores, BoreFor{Colour: r.Colours[i].Name, Barrel: b.Name, BoreMM: b.BoreMM * math.Sqrt(want/given), IsMM: b.BoreMM})
		travel := b.TravelMM(shot.Colours[i].TotalML)
		a.Pushes = append(a.Pushes, Push{Colour: r.Colours[i].Name, TravelMM: travel, PerFirst: travel / barrels[0].TravelMM(shot.Colours[0].TotalML)})
	}
	return a
}

// layerWarnings tells that ganged barrels put the lines elsewhere, and the ways out.
func (r recipe) layerWarnings(l *LineResult) []string {
	var w []string
	if r.Streams && r.Cavity != nil {
		w = append(w, fmt.Sprintf("where %d streams put their lines along the bait is not worked out: a trial shot decides", len(r.Colours)))
	}
	moved := false
	for i := range r.shares {
		moved = moved || math.Abs(r.shares[i]-r.Job.Shares[i]) > sameShare
	}
	if !r.fixed || !moved {
		return w
	}
	var bores []string
	for _, b := range l.Agree.Bores[1:] {
		bores = append(bores, fmt.Sprintf("%s for %s", units.Length(b.BoreMM), b.Colour))
	}
	return append(w, fmt.Sprintf("the ganged barrels give %s from %s to %s, not %s as drawn; three ways out: draw the lines where they put them, at %s; or take bores of %s beside the %.1f mm of %s; or %s",
		units.SharesText(r.shares), r.Colours[0].Name, r.Colours[len(r.Colours)-1].Name, units.SharesText(r.Job.Shares), units.SharesText(r.shares),
		strings.Join(bores, " and "), l.Agree.Bores[0].IsMM, l.Agree.Bores[0].Colour, l.Agree.pushByHand()))
}
