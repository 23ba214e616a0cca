package main

import (
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bellyline/cavity/layout"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/svg"
	"bellyline/mesh"
	"bellyline/mesh/stl"
	"bellyline/mesh/vector"
)

// canSave refuses a mold that no mold file tells truly: the two colours of one have a
// line between belly and back.
func (j *sizeJob) canSave() error {
	if j.ask.Colours() < 2 || j.taken.LineAwayMM != nil {
		return nil
	}
	hint := ""
	for _, p := range j.all {
		if p.LineAwayMM != nil {
			hint = fmt.Sprintf("take --parting %d, or ", p.Number)
			break
		}
	}
	return fmt.Errorf("--save: parted %s, two streams lay their line on edge, and a mold file has belly below back; %ssize it for one colour", j.taken.Name, hint)
}

// save writes what a shop takes on with: the bait as drawn, both halves, a drawing,
// a mold file that pour reads, and a shop file to be filled in.
func (j *sizeJob) save(folder string, r *layout.Result) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	type solid struct {
		file, name string
		mesh       *mesh.Mesh
	}
	solids := []solid{{"bait.stl", "bait", j.model}}
	if j.bait.Overlaps() {
		r.Warnings = append(r.Warnings, "the model's solids overlap, so the halves cannot be saved as closed solids: join them in the drawing")
	} else {
		halves, err := r.Layout.Halves(j.laid)
		if err != nil {
			return err
		}
		if r.RunnerSaved = halves.WithRunner; !r.RunnerSaved {
			r.Warnings = append(r.Warnings, "the saved halves have cavities but no runner and gates: those could not be cut cleanly into this model's facets; cut them along the drawing")
		}
		solids = append(solids, solid{"lower-half.stl", "lower half", halves.Below}, solid{"upper-half.stl", "upper half", halves.Above})
	}
	for _, solid := range solids {
		path := filepath.Join(folder, solid.file)
		if err := stl.WriteFile(path, solid.name, solid.mesh); err != nil {
			return err
		}
		r.Files = append(r.Files, path)
	}
	for _, text := range []struct {
		file  string
		write func(io.Writer) error
	}{
		{"layout.svg", func(w io.Writer) error { return svg.Layout(w, r) }},
		{"mold.yaml", func(w io.Writer) error { return j.writeMold(w, folder, r) }},
		{"shop.yaml", j.writeShop},
	} {
		path := filepath.Join(folder, text.file)
		if text.file == "shop.yaml" {
			if _, err := os.Stat(path); err == nil || j.names(folder).shop != "shop.yaml" {
				continue // the shop's own figures stay
			}
		}
		if err := saveFile(j.c.ctx, path, text.write); err != nil {
			return err
		}
		r.Files = append(r.Files, path)
	}
	return nil
}

// moldNames are what a mold file says of the shop.
type moldNames struct{ shop, injector, material, vessel string }

// names takes them from the shop file, the first of each, or from that which is saved.
func (j *sizeJob) names(folder string) moldNames {
	shop := j.f.shopFile
	if shop == nil || len(j.f.barrels) > 0 {
		return moldNames{"shop.yaml", "injector", "plastisol", "vessel"}
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
	return moldNames{path, j.ask.Injectors[0].Name, slices.Sorted(maps.Keys(shop.Materials))[0], slices.Sorted(maps.Keys(shop.Vessels))[0]}
}

// writeMold writes a mold file.
func (j *sizeJob) writeMold(w io.Writer, folder string, r *layout.Result) error {
	name := strings.TrimSuffix(filepath.Base(j.name), filepath.Ext(j.name))
	var b strings.Builder
	fmt.Fprintf(&b, "# Made by bellyline size. Check every figure before metal is cut.\n")
	own := j.names(folder)
	fmt.Fprintf(&b, "shop: %q\nbait: %q\nmold: %q\n\n", own.shop, name, fmt.Sprintf("%d of %s", r.Cavities, name))
	fmt.Fprintf(&b, "model: bait.stl\nunit: mm\nback: %s\nnose: %s\ncavities: %d\n\n", files.DirectionText(j.way.back), files.DirectionText(j.way.nose), r.Cavities)
	fmt.Fprintf(&b, "feed:\n  runner: {volume: %.3f mL}   # %.1f mm round, %.1f mm long, gates from %.1f mm\n\n", r.Runner.VolumeML, r.Runner.DiameterMM, r.Runner.LengthMM, r.GateMM)
	fmt.Fprintf(&b, "injector: %q\nvessel: %q\n", own.injector, own.vessel)
	barrels := j.ask.Injectors[0].Barrels
	if j.ask.Colours() == 1 {
		fmt.Fprintf(&b, "colours:\n  - {name: bait, material: %q, barrel: %q}\n", own.material, barrels[0].Name)
	} else {
		share := barrels[0].Share * 100
		halves := [2]string{"lower half", "upper half"}
		if p := r.Parting.Pull; j.way.back.Dot(vector.Of(p)) < 0 { // the belly lies above
			halves[0], halves[1] = halves[1], halves[0]
		}
		fmt.Fprintf(&b, "line: {belly_share: %.4g/%.4g}\n", share, 100-share)
		fmt.Fprintf(&b, "colours:             # from belly to back\n")
		for i, colour := range [2]string{"belly", "back"} {
			fmt.Fprintf(&b, "  - {name: %s, material: %q, barrel: %q, half: %s}\n", colour, own.material, barrels[i].Name, halves[i])
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// writeShop writes a shop file to be filled in.
func (j *sizeJob) writeShop(w io.Writer) error {
	var b strings.Builder
	melt, err := units.ParseTemperature(j.f.melt)
	if err != nil {
		return err
	}
	fmt.Fprintf(&b, "# Made by bellyline size with usual figures: put your own in before you pour.\nshop: \"to be filled in\"\n\nmaterials:\n  plastisol:\n    density: 1.02      # g/mL, cold\n    expansion: %g  # by volume, per degree C\n    pour: %.1fC\n    ceiling: 190C\n\ninjectors:\n  injector:\n", j.f.expansion, float64(melt))
	if j.ask.Colours() == 2 {
		fmt.Fprintf(&b, "    drive: independent # ganged needs bore: in each barrel\n")
	}
	fmt.Fprintf(&b, "    barrels:\n")
	for _, barrel := range j.ask.Injectors[0].Barrels {
		fmt.Fprintf(&b, "      %q: {holds: %g mL, keeps: %g mL}\n", barrel.Name, barrel.HoldsML, barrel.KeepsML)
	}
	fmt.Fprintf(&b, "\nvessels:\n  vessel: {holds: 4 cups, fill: 50 %%, keeps: 8 mL}\n")
	_, err = io.WriteString(w, b.String())
	return err
}
