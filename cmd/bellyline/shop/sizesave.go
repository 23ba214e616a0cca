package shop

import (
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/svg"
	"bellyline/mesh"
	"bellyline/mesh/stl"
	"bellyline/mesh/vector"
)

// OnEdgeError is returned for a mold that no mold file tells truly: the two colours of one
// have a line between belly and back.
type OnEdgeError struct {
	Parted string // how the mold is parted
	Other  int    // number of a parting that can be saved; 0: there is none
}

func (e OnEdgeError) Error() string {
	return fmt.Sprintf("parted %s, two streams lay their line on edge, and a mold file has belly below back", e.Parted)
}

// canSave refuses a mold that no mold file tells truly.
func (n *NewMold) canSave() error {
	if n.asked.Ask.Colours() < 2 || n.Parting.LineAwayMM != nil {
		return nil
	}
	e := OnEdgeError{Parted: n.Parting.Name}
	for _, p := range n.Partings {
		if p.LineAwayMM != nil {
			e.Other = p.Number
			break
		}
	}
	return e
}

// solid is a body to be saved.
type solid struct {
	file, name string
	mesh       *mesh.Mesh
}

// Save writes what a shop takes on with: the bait as drawn, both halves, a drawing, a mold
// file that Open reads, and a shop file to be filled in. The result lists the files.
func (n *NewMold) Save(ctx context.Context, folder string) error {
	if err := n.canSave(); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	solids, err := n.solids()
	if err != nil {
		return err
	}
	for _, solid := range solids {
		path := filepath.Join(folder, solid.file)
		if err := stl.WriteFile(path, solid.name, solid.mesh); err != nil {
			return err
		}
		n.Files = append(n.Files, path)
	}
	own := n.names(folder)
	texts := []struct {
		file  string
		write func(io.Writer) error
	}{
		{"layout.svg", func(w io.Writer) error { return svg.Layout(w, n.Result) }},
		{"mold.yaml", writes(n.moldText(own))},
	}
	// The shop's own figures stay.
	if _, err := os.Stat(filepath.Join(folder, newShopFile)); err != nil && own.shop == newShopFile {
		texts = append(texts, struct {
			file  string
			write func(io.Writer) error
		}{newShopFile, writes(n.shopText())})
	}
	for _, text := range texts {
		path := filepath.Join(folder, text.file)
		if err := SaveFile(ctx, path, text.write); err != nil {
			return err
		}
		n.Files = append(n.Files, path)
	}
	return nil
}

func writes(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// solids are the bait and both halves, where these can be cut.
func (n *NewMold) solids() ([]solid, error) {
	list := []solid{{"bait.stl", "bait", n.model}}
	if n.bait.Overlaps() {
		n.Warnings = append(n.Warnings, "the model's solids overlap, so the halves cannot be saved as closed solids: join them in the drawing")
		return list, nil
	}
	halves, err := n.Layout.Halves(n.laid)
	if err != nil {
		return nil, err
	}
	if n.RunnerSaved = halves.WithRunner; !n.RunnerSaved {
		n.Warnings = append(n.Warnings, "the saved halves have cavities but no runner and gates: those could not be cut cleanly into this model's facets; cut them along the drawing")
	}
	return append(list, solid{"lower-half.stl", "lower half", halves.Below}, solid{"upper-half.stl", "upper half", halves.Above}), nil
}

const newShopFile = "shop.yaml"

// moldNames are what a mold file says of the shop.
type moldNames struct{ shop, injector, material, vessel string }

// names takes them from the shop file, the first of each, or from that which is saved.
func (n *NewMold) names(folder string) moldNames {
	shop, injector := n.asked.Shop, n.asked.Ask.Injectors[0].Name
	if shop == nil {
		return moldNames{newShopFile, files.NewInjector, files.NewMaterial, files.NewVessel}
	}
	if _, ofShop := shop.Injectors[injector]; !ofShop { // its barrels were told otherwise
		return moldNames{newShopFile, files.NewInjector, files.NewMaterial, files.NewVessel}
	}
	path, err := filepath.Abs(shop.File)
	from, errFrom := filepath.Abs(folder)
	if err == nil && errFrom == nil {
		if near, err := filepath.Rel(from, path); err == nil {
			path = filepath.ToSlash(near)
		}
	} else {
		path = shop.File
	}
	return moldNames{path, injector, slices.Sorted(maps.Keys(shop.Materials))[0], slices.Sorted(maps.Keys(shop.Vessels))[0]}
}

// moldText is the mold file.
func (n *NewMold) moldText(own moldNames) string {
	s := n.asked
	name := strings.TrimSuffix(filepath.Base(s.Model.Name), filepath.Ext(s.Model.Name))
	barrels := s.Ask.Injectors[0].Barrels
	m := files.MoldText{
		Shop: own.shop, Bait: name, Mold: fmt.Sprintf("%d of %s", n.Cavities, name), Model: "bait.stl",
		Back: s.Back, Nose: s.Nose, Cavities: n.Cavities,
		RunnerML: n.Runner.VolumeML, Runner: fmt.Sprintf("%.1f mm round, %.1f mm long, gates from %.1f mm", n.Runner.DiameterMM, n.Runner.LengthMM, n.GateMM),
		Injector: own.injector, Vessel: own.vessel, Share: barrels[0].Share,
	}
	if s.Ask.Colours() == 1 {
		m.Colours = []files.ColourText{{Name: "bait", Material: own.material, Barrel: barrels[0].Name}}
		return m.Text()
	}
	halves := [2]string{"lower half", "upper half"}
	if s.Back.Dot(vector.Of(n.Parting.Pull)) < 0 { // the belly lies above
		halves[0], halves[1] = halves[1], halves[0]
	}
	for i, colour := range [2]string{"belly", "back"} {
		m.Colours = append(m.Colours, files.ColourText{Name: colour, Material: own.material, Barrel: barrels[i].Name, Half: halves[i]})
	}
	return m.Text()
}

// shopText is a shop file to be filled in.
func (n *NewMold) shopText() string {
	t := files.ShopText{ExpansionPerC: n.asked.ExpansionPerC, Pour: units.Celsius(n.asked.Cool.MeltC)}
	for _, b := range n.asked.Ask.Injectors[0].Barrels {
		t.Barrels = append(t.Barrels, files.BarrelText{Name: b.Name, HoldsML: b.HoldsML, KeepsML: b.KeepsML})
	}
	return t.Text()
}
