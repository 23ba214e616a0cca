package laminate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/inset"
)

// latticePoints is what a lattice of depths has when its step is fit to the bait: a
// bait of 100 x 20 x 15 mm gets steps of 0.5 mm and takes a second or two.
const latticePoints = 250_000

// Core is what lies deeper than so many mm below the skin: core, skin.
type Core struct {
	DepthMM float64
	StepMM  float64 // of the lattice of depths; 0: fit to the bait
}

func (Core) Kind() Kind                    { return KindCore }
func (Core) Colours() (string, string)     { return "core", "skin" }
func (Core) Streams() bool                 { return false }
func (b Core) PlaceMM() float64            { return b.DepthMM }
func (b Core) At(depthMM float64) Boundary { b.DepthMM = depthMM; return b }
func (b Core) check(byPlace bool) error    { return checkDepth(byPlace, b.DepthMM, b.StepMM) }

func (b Core) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	return layCore(ctx, c, b, l)
}

// Skin is the same seen from outside: skin, core.
type Skin struct {
	ThicknessMM float64
	StepMM      float64 // of the lattice of depths; 0: fit to the bait
}

func (Skin) Kind() Kind                        { return KindSkin }
func (Skin) Colours() (string, string)         { return "skin", "core" }
func (Skin) Streams() bool                     { return false }
func (b Skin) PlaceMM() float64                { return b.ThicknessMM }
func (b Skin) At(thicknessMM float64) Boundary { b.ThicknessMM = thicknessMM; return b }
func (b Skin) check(byPlace bool) error        { return checkDepth(byPlace, b.ThicknessMM, b.StepMM) }

func (b Skin) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	l.Share = 1 - l.Share
	core, err := layCore(ctx, c, Core{DepthMM: b.ThicknessMM, StepMM: b.StepMM}, l)
	if err != nil {
		return nil, err
	}
	return skin{core, b.At(core.depth)}, nil
}

func checkDepth(byPlace bool, depth, step float64) error {
	if byPlace && !(depth > 0 && depth <= largest) {
		return fmt.Errorf("%w: a skin %g mm thick", ErrJob, depth)
	}
	if !sound(step) {
		return fmt.Errorf("%w: a lattice of %g mm", ErrJob, step)
	}
	return nil
}

// insetError says what cannot be in the words of the line.
func insetError(err error) error {
	if errors.Is(err, inset.ErrInset) {
		return fmt.Errorf("%w: %w", ErrJob, err)
	}
	return err
}

// core is a core that was found, and what lies round it.
type core struct {
	boundary Boundary
	cavity   *cavity.Cavity
	inset    *inset.Inset
	depth    float64
	step     float64
	outside  *mesh.Mesh // of the skin
	warning  []string
}

func layCore(ctx context.Context, c *cavity.Cavity, b Core, l Line) (*core, error) {
	k := &core{cavity: c, depth: b.DepthMM, step: b.StepMM, outside: c.Mesh}
	if k.step == 0 {
		size := c.Mesh.Bounds().Size()
		k.step = math.Cbrt(size.X * size.Y * size.Z / latticePoints)
	}
	depths, err := c.Depths(ctx, k.step)
	if err == nil && !l.ByPlace {
		k.depth, err = depths.DepthFor(l.Share * c.FillMM3)
	}
	if err == nil {
		k.inset, err = depths.Inset(k.depth)
	}
	if err != nil {
		return nil, insetError(err)
	}
	k.boundary = b.At(k.depth)
	if c.Overlaps() {
		k.showOutside(depths)
	}
	return k, nil
}

// showOutside keeps the skin's outside for a model whose parts overlap. Its own surface
// encloses the space inside of the core more than once, so that taking the core out
// once would leave some of it.
func (k *core) showOutside(d *inset.Depths) {
	k.outside = d.Outside()
	off := k.outside.Moments().VolumeMM3 - k.cavity.FillMM3
	k.warning = []string{fmt.Sprintf("the model's parts overlap: a saved skin has them joined as a lattice of %.2f mm shows them, with edges rounded off, and holds %.1f mm3 %s than is told here; a finer step makes that less, joined parts in the drawing program undo it",
		d.StepMM(), math.Abs(off), map[bool]string{true: "more", false: "less"}[off > 0])}
}

func (k *core) at() Boundary { return k.boundary }

func (k *core) surface() *Sheet { return nil }

func (k *core) warnings() []string { return k.warning }

func (k *core) lies() SplitLine {
	return SplitLine{Kind: KindCore, Needs: insert, HeightsMM: []float64{}, DepthMM: &k.depth, StepMM: &k.step, ErrorMM3: &k.inset.ErrorMM3}
}

func (k *core) belowMM3(context.Context) (float64, error) { return k.inset.VolumeMM3, nil }

// section has the core below; nothing of it is seen outside.
func (k *core) section(ctx context.Context) (cavity.Section, error) {
	skin, err := k.cavity.SkinMM2(ctx)
	return cavity.Section{
		BelowMM3: k.inset.VolumeMM3, AboveMM3: k.cavity.FillMM3 - k.inset.VolumeMM3,
		OutsideAboveMM2: skin, AreaMM2: k.inset.AreaMM2, Pieces: k.inset.Pieces,
	}, err
}

// bodies has no need of what is left of the cavity: no boundary lies beside a core.
func (k *core) bodies(*mesh.Mesh) (below, above *mesh.Mesh, err error) {
	return k.inset.Body, inset.Without(k.outside, k.inset.Body), nil
}

// skin is the same with the skin below.
type skin struct {
	*core
	boundary Boundary
}

func (s skin) at() Boundary { return s.boundary }

func (s skin) lies() SplitLine {
	says := s.core.lies()
	says.Kind = KindSkin
	return says
}

func (s skin) belowMM3(context.Context) (float64, error) {
	return s.cavity.FillMM3 - s.inset.VolumeMM3, nil
}

func (s skin) section(ctx context.Context) (cavity.Section, error) {
	in, err := s.core.section(ctx)
	in.BelowMM3, in.AboveMM3, in.OutsideBelowMM2, in.OutsideAboveMM2 = in.AboveMM3, in.BelowMM3, in.OutsideAboveMM2, in.OutsideBelowMM2
	return in, err
}

func (s skin) bodies(body *mesh.Mesh) (below, above *mesh.Mesh, err error) {
	core, round, err := s.core.bodies(body)
	return round, core, err
}
