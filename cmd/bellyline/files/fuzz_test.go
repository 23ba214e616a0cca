package files

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode"

	"bellyline/cmd/bellyline/plain"
	"bellyline/laminate"
)

// FuzzShop: no text makes the reader panic; what it refuses it refuses in printable
// lines that name the file; what it takes is a shop that can be.
func FuzzShop(f *testing.F) {
	f.Add([]byte(goodShop))
	for _, b := range badShops {
		f.Add([]byte(replaceOnce(f, goodShop, b.old, b.new)))
	}
	addTexts(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		r := &reading{}
		var shop *Shop
		if s := r.told(r.parse("shop.yaml", data, nil)); s != nil {
			shop = readShop(s)
		}
		if err := r.err(); err != nil {
			oneLine(t, err, "shop.yaml")
			return
		}
		finite(t, reflect.ValueOf(*shop))
		for name, m := range shop.Materials {
			if name != plain.Name(name) || !(m.DensityGML > 0 && m.Room < m.Pour && m.Pour <= m.Ceiling && m.Ceiling <= 205) {
				t.Errorf("material %q is %+v", name, m)
			}
		}
		for name, in := range shop.Injectors {
			if n := len(in.Barrels); name != plain.Name(name) || n < 1 || n > laminate.MostColours {
				t.Errorf("injector %q is %+v", name, in)
			}
		}
		for name, v := range shop.Vessels {
			if name != plain.Name(name) || !(v.HoldsML*v.Fill > v.KeepsML && v.Fill <= 1) {
				t.Errorf("vessel %q is %+v", name, v)
			}
		}
	})
}

// FuzzMold is FuzzShop for mold files of the good shop.
func FuzzMold(f *testing.F) {
	f.Add([]byte(goodMold))
	for _, b := range badMolds {
		f.Add([]byte(replaceOnce(f, goodMold, b.old, b.new)))
	}
	addTexts(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		shop := wantShop("")
		r := &reading{}
		var m *Mold
		if s := r.told(r.parse("mold.yaml", data, nil)); s != nil {
			m = readMold(s.takes(moldKeys), shop)
		}
		if err := r.err(); err != nil {
			oneLine(t, err, "mold.yaml")
			return
		}
		finite(t, reflect.ValueOf(*m))
		nowhere := func(l laminate.Line) bool { return !l.ByPlace && !(l.Share > 0 && l.Share < 1) }
		switch n := len(m.Colours); {
		case n < 1, n > laminate.MostColours, len(m.Injector.Barrels) != n, len(m.Lines) != n-1, slices.ContainsFunc(m.Lines, nowhere), m.Cavities < 1, m.Baits < 0:
			t.Errorf("%+v", m)
		case (m.Model == nil) == (m.Weighed == 0), m.Fed < 0, m.Fed > 1, m.Bait != plain.Name(m.Bait):
			t.Errorf("%+v", m)
		}
		for _, c := range m.Colours {
			if _, err := c.Mix.Blend(); err != nil || c.Name != plain.Name(c.Name) {
				t.Errorf("colour %q: %v", c.Name, err)
			}
		}
	})
}

func addTexts(f *testing.F) {
	for _, b := range badTexts {
		if len(b.text) < 10_000 {
			f.Add([]byte(b.text))
		}
	}
}

func oneLine(t *testing.T, err error, file string) {
	t.Helper()
	for text := range strings.SplitSeq(err.Error(), "\n") {
		if !strings.HasPrefix(text, file+":") && !strings.HasPrefix(text, "and ") || strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) || len(text) > 5000 {
			t.Errorf("not a printable line about %s: %q", file, text)
		}
	}
	if _, ok := errors.AsType[*Error](err); !ok {
		t.Errorf("%T is no Error", err)
	}
}

// finite fails for a number in a value that is not one.
func finite(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			t.Errorf("a value is %v", v.Float())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			finite(t, v.Index(i))
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			finite(t, v.MapIndex(k))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			finite(t, v.Elem())
		}
	}
}
