package bench

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"

	"github.com/golang/geo/r2"

	"bellyline/cavity/hollow"
)

// hollowView is a hollow of a mold half from above, in the half's frame.
type hollowView struct {
	ID       int            `json:"id"`
	Kind     string         `json:"kind"`
	Outlines [][][2]float64 `json:"outlines"`
	Depths   *depthPicture  `json:"depths"`
}

// depthPicture is how deep a hollow is, the deeper the darker: a PNG with the y of
// the frame upwards.
type depthPicture struct {
	MinMM  [2]float64 `json:"min_mm"`
	SizeMM [2]float64 `json:"size_mm"`
	PNG    string     `json:"png"` // a data address
}

func hollowViews(h *hollow.Half) []hollowView {
	deepest := float32(0)
	for _, o := range h.Hollows {
		if o.Depths != nil {
			for _, d := range o.Depths.MM {
				deepest = max(deepest, d)
			}
		}
	}
	list := []hollowView{}
	for _, o := range h.Hollows {
		v := hollowView{ID: o.ID, Kind: string(o.Kind), Outlines: [][][2]float64{}}
		for _, loop := range o.Outlines {
			v.Outlines = append(v.Outlines, points(loop))
		}
		if o.Depths != nil && deepest > 0 {
			v.Depths = picture(o.Depths, deepest)
		}
		list = append(list, v)
	}
	return list
}

// picture shades a grid of depths. Its cells reach half a cell round their middles.
func picture(d *hollow.Depths, deepest float32) *depthPicture {
	const lightest, darkest = 205, 60
	img := image.NewNRGBA(image.Rect(0, 0, d.NX, d.NY))
	for y := range d.NY {
		for x := range d.NX {
			if depth := d.MM[y*d.NX+x]; depth > 0 {
				grey := uint8(lightest - (lightest-darkest)*depth/deepest)
				img.SetNRGBA(x, d.NY-1-y, color.NRGBA{grey, grey, grey, 255})
			}
		}
	}
	var out bytes.Buffer
	if png.Encode(&out, img) != nil {
		return nil
	}
	return &depthPicture{
		MinMM:  [2]float64{d.AtMM[0] - d.CellMM/2, d.AtMM[1] - d.CellMM/2},
		SizeMM: [2]float64{float64(d.NX) * d.CellMM, float64(d.NY) * d.CellMM},
		PNG:    "data:image/png;base64," + base64.StdEncoding.EncodeToString(out.Bytes()),
	}
}

func points(list []r2.Point) [][2]float64 {
	out := [][2]float64{}
	for _, p := range list {
		out = append(out, [2]float64{p.X, p.Y})
	}
	return out
}
