package shop

import (
	_ "embed"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/plain"
)

// What a model is poured with before anybody opened a mold file. Invented, and said
// to be wherever it is used.
var (
	//go:embed starter/mold.yaml
	starterMold []byte
	//go:embed starter/shop.yaml
	starterShop []byte
)

// StarterMold is the mold file of a model that came without one, but for its names.
func StarterMold() []byte { return slices.Clone(starterMold) }

// StarterShop is the shop file of a model that came without one.
func StarterShop() []byte { return slices.Clone(starterShop) }

// MoldKey is how errors call the mold file of a source whose text is read again. No file
// that is dropped can have this name.
const MoldKey = "the mold file"

// Source is where a mold file and all that it names come from: the disk, or what was
// dropped on the page. It does not change.
type Source struct {
	Name    string      // of what was opened, for people
	Starter bool        // mold and shop file are the built-in ones
	Mold    *files.Mold // as it stands there

	set files.Set // the texts of mold and shop file, when they were kept
	// The models that the mold file names: the bait's, the halves' and the feed's, in
	// the order of the file.
	bait   Model
	halves []Model
	feed   []Model
}

// isModelName tells an STL by its name.
func isModelName(name string) bool { return strings.EqualFold(filepath.Ext(name), ".stl") }

// OnDisk is a mold file, "-" for standard input, with what it names.
func OnDisk(name string) (*Source, error) {
	mold, err := files.ReadMold(name)
	if err != nil {
		return nil, err
	}
	return named(mold), nil
}

// named is a mold file that was read from the disk.
func named(mold *files.Mold) *Source {
	s := &Source{Name: filepath.Base(mold.File), Mold: mold}
	s.takeModels(func(p string) Model { return Model{Name: filepath.Base(p), path: p} })
	return s
}

// Kept is OnDisk for a mold file, or a model alone, whose texts are kept to be read again
// with changes.
func Kept(name string) (*Source, error) {
	if isModelName(name) {
		return alone(Model{Name: CleanName(filepath.Base(name)), path: name})
	}
	s, err := OnDisk(name)
	if err != nil {
		return nil, err
	}
	s.set = files.Set{}
	if s.set[MoldKey], err = os.ReadFile(name); err != nil {
		return nil, err
	}
	s.set[filepath.Base(s.Mold.Shop.File)], err = os.ReadFile(s.Mold.Shop.File)
	return s, err
}

// takeModels finds the models that the mold file names.
func (s *Source) takeModels(find func(path string) Model) {
	if s.Mold.Model != nil {
		s.bait = find(s.Mold.Model.Path)
	}
	if s.Mold.Halves != nil {
		for _, h := range s.Mold.Halves.List {
			s.halves = append(s.halves, find(h.Path))
		}
	}
	for _, c := range s.Mold.Feed {
		if c.Model != nil {
			s.feed = append(s.feed, find(c.Model.Path))
		}
	}
}

// alone is one model without a mold file.
func alone(m Model) (*Source, error) {
	bait := strings.TrimSuffix(m.Name, filepath.Ext(m.Name))
	text, err := files.Rewrite("mold.yaml", starterMold, map[string]string{"bait": files.Scalar(bait), "model": files.Scalar(m.Name)})
	if err != nil {
		return nil, err
	}
	s := &Source{Name: m.Name, Starter: true, set: files.Set{MoldKey: text, "shop.yaml": starterShop}}
	if s.Mold, err = s.Read(text); err != nil {
		return nil, err
	}
	s.takeModels(func(string) Model { return m })
	return s, nil
}

// Text is that of the mold file, of a source that was kept.
func (s *Source) Text() []byte { return s.set[MoldKey] }

// Read reads a changed text of the mold file with the source's shop file.
func (s *Source) Read(text []byte) (*files.Mold, error) {
	set := files.Set{}
	for name, data := range s.set {
		set[name] = data
	}
	set[MoldKey] = text
	return set.ReadMold(MoldKey)
}

// Dropped is what was dropped on the page, by name: one model, or a mold file
// with all that it names.
func Dropped(dropped map[string][]byte) (*Source, error) {
	var models, texts []string
	for name := range dropped {
		if isModelName(name) {
			models = append(models, name)
		} else {
			texts = append(texts, name)
		}
	}
	slices.Sort(models)
	slices.Sort(texts)
	switch {
	case len(texts) == 0 && len(models) == 1:
		return alone(Model{Name: models[0], data: dropped[models[0]]})
	case len(texts) == 0 && len(models) > 1:
		return nil, fmt.Errorf("%d models at once; open one, or choose its mold file with them", len(models))
	case len(texts) == 0:
		return nil, errors.New("no file came along; choose an STL, or a mold file with its shop file and its models")
	case len(texts) == 1 && len(models) == 0:
		return nil, fmt.Errorf("%s: a page cannot look for the files that this one names; choose the mold file, its shop file and its models all at once, or start bellyline bench with the mold file", texts[0])
	}
	return droppedTexts(dropped, texts)
}

// droppedTexts takes the first text that reads as a mold file.
func droppedTexts(dropped map[string][]byte, texts []string) (*Source, error) {
	set := files.Set{}
	for _, name := range texts {
		set[name] = dropped[name]
	}
	var first error
	for _, name := range texts {
		mold, err := set.ReadMold(name)
		if err != nil {
			if first == nil || !strings.Contains(err.Error(), "shop file") {
				first = err
			}
			continue
		}
		set[MoldKey] = set[name]
		s := &Source{Name: name, Mold: mold, set: set}
		missing := ""
		s.takeModels(func(p string) Model {
			if dropped[p] == nil && missing == "" {
				missing = p
			}
			return Model{Name: p, data: dropped[p]}
		})
		if missing != "" {
			return nil, fmt.Errorf("%s names the model %s, which was not among the files; choose all of them at once", name, plain.Name(missing))
		}
		return s, nil
	}
	return nil, first
}

// CleanName makes the name of an uploaded file safe to show and to write into a
// mold file: no folders, nothing that cannot be printed.
func CleanName(name string) string {
	name = plain.Name(path.Base(strings.ReplaceAll(name, `\`, "/")))
	if name == "" || strings.Trim(strings.TrimSuffix(strings.ToLower(name), ".stl"), ". /") == "" || name == MoldKey {
		return "model.stl"
	}
	return name
}
