package hollow

import (
	"github.com/golang/geo/r2"
)

// Kind says what a hollow is for.
type Kind string

// The kinds of hollows.
const (
	Cavity Kind = "cavity" // makes a bait
	Runner Kind = "runner" // leads plastic: runner and sprue
	Hole   Kind = "hole"   // for pins and bolts: round, or through
)

// Half is what was found in a mold half. Places are in the half's frame: x and y
// along the edges of the block from the model's origin, z above the parting face.
type Half struct {
	File       string      `json:"file"`
	Triangles  int         `json:"triangles"`
	Pull       [3]float64  `json:"pull"`       // out of the half
	PartingMM  float64     `json:"parting_mm"` // height along the pull, in the model, of the parting face that most opens in
	LevelsMM   []float64   `json:"levels_mm"`  // of all parting faces that hollows open in, the highest first
	BlockMM    [3]float64  `json:"block_mm"`
	XAxis      [3]float64  `json:"x_axis"` // the frame's x in the model
	Hollows    []Hollow    `json:"hollows"`
	Connected  []Connected `json:"connected"`  // hollows joined by gates
	Candidates []Face      `json:"candidates"` // the faces that hollows open in, the best first
	Alike      [][]int     `json:"alike"`      // cavities of the same bait, by id
	Mirrored   [][2]int    `json:"mirrored"`   // cavities that are mirror images and not the same
	Warnings   []string    `json:"warnings"`

	WorstBoundMM3 float64 `json:"worst_bound_mm3"` // the largest BoundMM3 of a hollow

	Frame   Frame      `json:"-"`
	Outline []r2.Point `json:"-"` // of the block in the frame
	parts   []part
	view    *view
	shapes  map[int]*shape // of cavities, made when first asked for
}

// Hollow is one cavity, one runner with its sprue, or one hole.
type Hollow struct {
	ID          int        `json:"id"`
	Kind        Kind       `json:"kind"`
	VolumeMM3   float64    `json:"volume_mm3"`
	OpeningMM2  float64    `json:"opening_mm2"`  // in the parting faces
	DepthMM     float64    `json:"depth_mm"`     // below its rim
	CentreMM    [2]float64 `json:"centre_mm"`    // of the opening
	UndercutMM2 float64    `json:"undercut_mm2"` // what faces away from the pull, seen along the pull
	Gates       []Gate     `json:"gates"`

	UndercutSurfaceMM2 float64 `json:"undercut_surface_mm2"` // the same surface's own area

	MinMM       [3]float64 `json:"min_mm"`
	MaxMM       [3]float64 `json:"max_mm"`
	DeepestMM   [3]float64 `json:"deepest_mm"`
	RimMM       float64    `json:"rim_mm"`        // height of its rim over the parting face
	RimSpreadMM float64    `json:"rim_spread_mm"` // how far the rim is from plane
	BoundMM3    float64    `json:"bound_mm3"`     // what that can do to the volume: opening times spread
	Through     bool       `json:"through"`       // it goes through the block
	SideMM3     float64    `json:"side_mm3"`      // part of the volume that ends at a sloped side's plane
	AreaMM2     float64    `json:"area_mm2"`      // of its surface

	File string `json:"file,omitempty"` // where it was saved

	Outlines [][]r2.Point `json:"-"` // of its opening in the frame, islands run the other way
	Depths   *Depths      `json:"-"`
}

// Gate is a neck at which a hollow was cut.
type Gate struct {
	WidthMM float64       `json:"width_mm"`
	AreaMM2 float64       `json:"area_mm2"`
	To      int           `json:"to"`      // the hollow beyond
	EndsMM  [2][2]float64 `json:"ends_mm"` // where its line meets the rim
}

// Connected is a hollow that was cut at its gates.
type Connected struct {
	IDs       []int   `json:"ids"`
	VolumeMM3 float64 `json:"volume_mm3"` // of all, summed before the cuts
}
