package laminate

import (
	"context"
	"fmt"
	"math"

	"bellyline/cavity/units"
)

// Apart tells that one plunger gets its colour out before the other: by so many mm of
// its stroke, since it stands further back, or since the other has air before it.
type Apart struct {
	MM    float64 // 0: both come at once
	First string  // the colour that comes first; empty when nobody has looked
}

// UnequalStart is what plungers that do not start level do to the first shot of a draw.
type UnequalStart struct {
	ApartMM float64 `json:"apart_mm"`
	// Alone is what goes first: of the one colour, or of either when nobody has looked
	// which it is.
	Alone []Alone `json:"alone"`
}

// Alone is what one colour does that comes first. Volumes are hot.
type Alone struct {
	Colour     string  `json:"colour"`
	Barrel     string  `json:"barrel"`
	ML         float64 `json:"alone_ml"`       // shot before the other colour comes: bore area times stroke
	ShotShare  float64 `json:"share_of_shot"`  // of all that a shot takes; more than 1 past a whole shot
	BaitsShare float64 `json:"share_of_baits"` // of what the cavities hold, at most 1
	// The first shot in all. Barrels pushed one by one can make up for the start.
	FirstShare float64  `json:"first_share"` // of the first colour of the bait
	FirstMM    *float64 `json:"first_mm"`    // where its line would lie, in the mean; null without a model, and past a whole shot
	MovedMM    *float64 `json:"moved_mm"`    // against what the barrels deliver

	makesUp bool // pushed by itself
}

func (j Job) checkApart() error {
	a := j.Apart
	if a == (Apart{}) {
		return nil
	}
	if !(a.MM > 0 && a.MM <= largest) {
		return fmt.Errorf("%w: plungers %g mm apart", ErrJob, a.MM)
	}
	if len(j.Colours) != 2 {
		return fmt.Errorf("%w: one colour has one plunger, which stands apart from none", ErrJob)
	}
	if l := j.inserted(); l != nil {
		return fmt.Errorf("%w: a line of the kind %s takes %s: its colours are shot one after the other, and no plunger starts ahead", ErrJob, l.Kind(), insert)
	}
	known := a.First == ""
	for i, c := range j.Colours {
		known = known || c.Name == a.First
		if i >= len(j.Injector.Barrels) || a.First != "" && c.Name != a.First {
			continue
		}
		b := j.Injector.Barrels[i]
		if b.BoreMM == 0 {
			return fmt.Errorf("%w: what plungers %g mm apart shoot takes the bore of the %s barrel", ErrInjector, a.MM, b.Name)
		}
		if stroke := b.TravelMM(b.CapacityML); a.MM > stroke {
			return fmt.Errorf("%w: plungers cannot stand %g mm apart: the whole stroke of the %s barrel is %.0f mm", ErrInjector, a.MM, b.Name, stroke)
		}
	}
	if !known {
		return fmt.Errorf("%w: no colour is called %q, which comes first", ErrJob, a.First)
	}
	return nil
}

// unequalStart works out the first shot. Its cost is a search in levels already built.
func (r recipe) unequalStart(ctx context.Context, s Shot, l *LineResult) (*UnequalStart, error) {
	if r.Apart.MM == 0 {
		return nil, nil
	}
	u := &UnequalStart{ApartMM: r.Apart.MM}
	baitsML := 0.0
	for _, c := range s.Colours {
		baitsML += c.BaitML
	}
	for i, c := range r.Colours {
		if r.Apart.First != "" && c.Name != r.Apart.First {
			continue
		}
		b := r.Injector.Barrels[i]
		a := Alone{Colour: c.Name, Barrel: b.Name, ML: b.areaMM2() * r.Apart.MM / 1000, FirstShare: r.shares[0], makesUp: !r.fixed}
		a.ShotShare, a.BaitsShare = a.ML/s.VolumeML, min(1, a.ML/baitsML)
		if r.fixed {
			a.FirstShare = firstShare(i, r.shares[0], a.ShotShare)
		}
		if err := a.place(ctx, r, l); err != nil {
			return nil, err
		}
		u.Alone = append(u.Alone, a)
	}
	return u, nil
}

// firstShare is the first colour's part of a shot of which colour i shoots a part
// alone, and both the rest in the barrels' ratio: the mold is full after one shot.
func firstShare(i int, delivered, alone float64) float64 {
	alone = min(1, alone)
	share := delivered * (1 - alone)
	if i == 0 {
		share += alone
	}
	return share
}

// place finds where the line of the first shot lies, when there is one.
func (a *Alone) place(ctx context.Context, r recipe, l *LineResult) error {
	if r.Cavity == nil || l.DeliveredMM == nil || a.makesUp || !bothSeen(a.FirstShare) {
		return nil
	}
	h, err := r.Cavity.HeightFor(ctx, a.FirstShare)
	if err != nil {
		return err
	}
	moved := h - *l.DeliveredMM
	a.FirstMM, a.MovedMM = &h, &moved
	return nil
}

// Warning says what comes first, what that makes of the first shot, and what to do.
func (u *UnequalStart) Warning() string {
	text := fmt.Sprintf("plungers that start %s apart", units.Length(u.ApartMM))
	for i, a := range u.Alone {
		if i == 0 {
			text += ": "
		} else {
			text += "; or "
		}
		text += a.text()
	}
	if len(u.Alone) == 2 {
		text += "; look which comes first"
	}
	return text + ". Level them before you draw, or push the one that comes first out into its own cup until both colours show, and only then set the mold on"
}

func (a Alone) text() string {
	text := fmt.Sprintf("%s of %s comes first, alone: ", units.Volume(a.ML), a.Colour)
	switch full := int(a.ShotShare); {
	case full == 1:
		return text + "more than a shot, so the first mold of a draw is of that colour only"
	case full > 1:
		return text + fmt.Sprintf("more than %d shots, so the first %d molds of a draw are of that colour only", full, full)
	}
	text += fmt.Sprintf("%.0f %% of a shot, as much as fills %.0f %% of its cavities", a.ShotShare*100, a.BaitsShare*100)
	switch {
	case a.makesUp:
		return text + "; pushed to its mark each still gives its share, but where the mold fills first it is of one colour"
	}
	text += fmt.Sprintf("; the first mold of a draw gets %s", units.ShareText(a.FirstShare))
	if a.MovedMM != nil {
		text += fmt.Sprintf(", its line %.1f mm %s in the mean", math.Abs(*a.MovedMM), map[bool]string{true: "higher", false: "lower"}[*a.MovedMM > 0])
	}
	return text + ", and where it fills first it is of one colour"
}
