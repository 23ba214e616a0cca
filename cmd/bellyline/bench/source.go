package bench

import (
	"bytes"
	"context"
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
	"bellyline/mesh/stl"
)

// What a model is poured with before anybody opened a mold file. Invented, and said
// to be wherever it is used.
var (
	//go:embed starter/mold.yaml
	starterMold []byte
	//go:embed starter/shop.yaml
	starterShop []byte
)

// moldKey is the mold file in a source's set. No file that is dropped can have it.
const moldKey = "the mold file"

// source is where a work comes from: the text of a mold and a shop file, and the
// models that they name, on the disk or in memory. It does not change.
type source struct {
	name    string // of what was opened, for people
	set     files.Set
	starter bool // mold and shop file are the built-in ones
	// The models that the mold file names, the bait's first, then those of the feed
	// in their order; a path where it came from the command line.
	bait   model
	halves []model
	feed   []model
}

// model is one STL: at a path, or its bytes.
type model struct {
	name, path string
	data       []byte
}

// read reads the model. An error names it as the command line does.
func (m model) read(ctx context.Context, opts stl.ReadOptions) (*stl.Model, error) {
	if m.path != "" {
		return stl.ReadFile(ctx, m.path, opts)
	}
	read, err := stl.Read(ctx, bytes.NewReader(m.data), opts)
	if format, ok := errors.AsType[*stl.FormatError](err); ok {
		format.File = m.name
		return nil, format
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", m.name, err)
	}
	return read, nil
}

// label is how errors name the model.
func (m model) label() string {
	if m.path != "" {
		return m.path
	}
	return m.name
}

// isModelName tells an STL by its name.
func isModelName(name string) bool { return strings.EqualFold(filepath.Ext(name), ".stl") }

// fromDisk is what the command line names: a mold file, or a model.
func fromDisk(name string) (*source, error) {
	if isModelName(name) {
		return fromModel(model{name: cleanName(filepath.Base(name)), path: name})
	}
	mold, err := files.ReadMold(name)
	if err != nil {
		return nil, err
	}
	s := &source{name: filepath.Base(name), set: files.Set{}}
	if s.set[moldKey], err = os.ReadFile(name); err != nil {
		return nil, err
	}
	if s.set[filepath.Base(mold.Shop.File)], err = os.ReadFile(mold.Shop.File); err != nil {
		return nil, err
	}
	s.takeModels(mold, func(p string) model { return model{name: filepath.Base(p), path: p} })
	return s, nil
}

// takeModels finds the models that a mold file names.
func (s *source) takeModels(m *files.Mold, find func(path string) model) {
	if m.Model != nil {
		s.bait = find(m.Model.Path)
	}
	if m.Halves != nil {
		for _, h := range m.Halves.List {
			s.halves = append(s.halves, find(h.Path))
		}
	}
	for _, c := range m.Feed {
		if c.Model != nil {
			s.feed = append(s.feed, find(c.Model.Path))
		}
	}
}

// fromModel is one model without a mold file.
func fromModel(m model) (*source, error) {
	bait := strings.TrimSuffix(m.name, filepath.Ext(m.name))
	text, err := files.Rewrite("mold.yaml", starterMold, map[string]string{"bait": files.Scalar(bait), "model": files.Scalar(m.name)})
	if err != nil {
		return nil, err
	}
	return &source{name: m.name, set: files.Set{moldKey: text, "shop.yaml": starterShop}, starter: true, bait: m}, nil
}

// fromDropped is what was dropped on the page, by name: one model, or a mold file
// with all that it names.
func fromDropped(dropped map[string][]byte) (*source, error) {
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
		return fromModel(model{name: models[0], data: dropped[models[0]]})
	case len(texts) == 0 && len(models) > 1:
		return nil, fmt.Errorf("%d models at once; open one, or choose its mold file with them", len(models))
	case len(texts) == 0:
		return nil, errors.New("no file came along; choose an STL, or a mold file with its shop file and its models")
	case len(texts) == 1 && len(models) == 0:
		return nil, fmt.Errorf("%s: a page cannot look for the files that this one names; choose the mold file, its shop file and its models all at once, or start bellyline bench with the mold file", texts[0])
	}
	return fromDroppedTexts(dropped, texts)
}

// fromDroppedTexts takes the first text that reads as a mold file.
func fromDroppedTexts(dropped map[string][]byte, texts []string) (*source, error) {
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
		set[moldKey] = set[name]
		s := &source{name: name, set: set}
		missing := ""
		s.takeModels(mold, func(p string) model {
			if dropped[p] == nil && missing == "" {
				missing = p
			}
			return model{name: p, data: dropped[p]}
		})
		if missing != "" {
			return nil, fmt.Errorf("%s names the model %s, which was not among the files; choose all of them at once", name, plain.Name(missing))
		}
		return s, nil
	}
	return nil, first
}

// cleanName makes the name of an uploaded file safe to show and to write into a
// mold file: no folders, nothing that cannot be printed.
func cleanName(name string) string {
	name = plain.Name(path.Base(strings.ReplaceAll(name, `\`, "/")))
	if name == "" || strings.Trim(strings.TrimSuffix(strings.ToLower(name), ".stl"), ". /") == "" || name == moldKey {
		return "model.stl"
	}
	return name
}
