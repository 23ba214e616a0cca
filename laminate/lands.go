package laminate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate/stream"
)

// Lands is where the two streams put the line along the bait, given what the
// barrels deliver. Heights are in model coordinates along the back direction; ups
// are above the lowest point of the bait. Volumes stay those of the delivery.
type Lands struct {
	MeanMM    float64 `json:"mean_mm"`
	MeanUpMM  float64 `json:"mean_up_mm"`
	LowestMM  float64 `json:"lowest_mm"` // along the bait
	HighestMM float64 `json:"highest_mm"`
	Ratio     float64 `json:"viscosity_ratio"` // back over belly, from their temperatures
	BackShare float64 `json:"back_share"`      // of the cavity

	SkinOver  string  `json:"skin_over"` // the colour that the front lays the other one over; empty for none
	SkinMM    float64 `json:"skin_mm"`   // mean over that face
	SkinShare float64 `json:"skin_face_share"`

	Streams *stream.Result `json:"-"` // all of it, for pictures
}

// landsStations are enough for a mean: a card shows no more.
const landsStations = 16

// lands works out where the line lands. Warnings tell why it is not known, and where a
// colour is lost.
func (j Job) lands(ctx context.Context, l *LineResult) (*Lands, []string, error) {
	ratio, warning := j.viscosityRatio()
	r, err := stream.Run(ctx, j.Cavity, stream.Conditions{BackFeed: 1 - l.DeliveredShare, Ratio: ratio, Stations: landsStations, LineOnly: true})
	switch {
	case errors.Is(err, cavity.ErrFrame), errors.Is(err, stream.ErrConditions):
		return nil, []string{fmt.Sprintf("where the line lands along the bait is not worked out: %v", err)}, nil
	case err != nil:
		return nil, nil, err
	case r.MeanMM == nil:
		return nil, warning, nil
	}
	low, _ := j.Cavity.Heights()
	out := &Lands{
		MeanMM: *r.MeanMM, MeanUpMM: *r.MeanMM - low, LowestMM: math.Inf(1), HighestMM: math.Inf(-1),
		Ratio: ratio.Back, BackShare: r.BackShare, SkinMM: r.Skin.MeanMM, SkinShare: r.Skin.FaceShare, Streams: r,
	}
	for _, s := range r.Stations {
		if s.LineMM != nil {
			out.LowestMM, out.HighestMM = min(out.LowestMM, *s.LineMM), max(out.HighestMM, *s.LineMM)
		}
	}
	names := map[string]string{"belly": j.Colours[0].Name, "back": j.Colours[1].Name, "": ""}
	out.SkinOver = names[r.Skin.Over]
	for _, lost := range r.Lost {
		if math.Abs(lost.FromMM-lost.ToMM) < lostFromMM {
			continue
		}
		warning = append(warning, lostWarning(lost, names))
	}
	return out, append(warning, r.Warnings[len(j.Cavity.Warnings):]...), nil // the job tells those of the model
}

// lostFromMM is how long a stretch without one colour must be to be told on a card.
const lostFromMM = 5

func lostWarning(l stream.Lost, names map[string]string) string {
	return fmt.Sprintf("from %.0f to %.0f mm along the bait %s will hardly be seen: the streams leave it %.1f mm there; bellyline stream shows where",
		l.FromMM, l.ToMM, names[l.Colour], l.WideMM)
}

// viscosityRatio is what the two pouring temperatures make of one material. Of two
// materials nobody knows which is thicker.
func (j Job) viscosityRatio() (stream.Ratio, []string) {
	belly, back := j.Colours[0].Mix.Plastisol, j.Colours[1].Mix.Plastisol
	if belly.Name != back.Name {
		return stream.EqualRatio(), []string{fmt.Sprintf("the line is worked out as if %s and %s were equally thick when hot: if one empties a ladle slower, see bellyline stream --help", belly.Name, back.Name)}
	}
	if belly.Pour == back.Pour {
		return stream.EqualRatio(), nil
	}
	ratio, err := stream.DefaultActivation().RatioAt(float64(back.Pour), float64(belly.Pour))
	if err != nil {
		return stream.EqualRatio(), []string{fmt.Sprintf("the line is worked out as if both colours were equally thick: %v and %v are too far apart", units.Celsius(belly.Pour), units.Celsius(back.Pour))}
	}
	return ratio, nil
}
