package laminate

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bellyline/cavity"
)

// numbers calls visit with every number and word of a job that can be set, the
// model left out, and the path to it.
func numbers(v reflect.Value, path string, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			numbers(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			numbers(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Float64, reflect.Int:
		visit(path, v)
	}
}

// unread are numbers that a job of the kind on paper does not use.
func unread(path string) bool {
	return strings.HasSuffix(path, ".WeighedBaitG")
}

// TestNonsenseInOneField puts nonsense into each number of a sound job, one at a
// time: it must be refused by one of the sentinels, or make no difference where
// the number is not used.
func TestNonsenseInOneField(t *testing.T) {
	seen := 0
	for _, nonsense := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e300, -5e-324} {
		whole := paperJob(t)
		sound := pourIt(t, whole)
		numbers(reflect.ValueOf(&whole).Elem(), "job", func(path string, v reflect.Value) {
			kept := reflect.ValueOf(v.Interface())
			defer v.Set(kept)
			switch {
			case v.Kind() == reflect.Float64:
				v.SetFloat(nonsense)
			case strings.HasSuffix(path, ".Kind"):
				v.SetInt(77)
			default:
				v.SetInt(-1)
			}
			seen++
			p, err := whole.Pour(t.Context())
			switch {
			case err != nil && !ours(err):
				t.Errorf("%s = %v: %v wraps no sentinel", path, v, err)
			case err == nil && !(unread(path) && cmp.Equal(p, sound, cmpopts.IgnoreUnexported(ShotColour{}))) && !harmless(path, nonsense):
				t.Errorf("%s = %v was taken", path, v)
			}
		})
	}
	if seen < 6*35 { // of the job on paper: 35 numbers and more
		t.Errorf("only %d numbers were tried", seen)
	}
}

// harmless are values that are nonsense elsewhere: a room at a degree below
// freezing is only cold.
func harmless(path string, x float64) bool {
	return strings.HasSuffix(path, ".Room") && x <= 0 && x >= -1
}

func ours(err error) bool {
	return errors.Is(err, ErrJob) || errors.Is(err, ErrInjector) || errors.Is(err, cavity.ErrMix) || errors.Is(err, cavity.ErrChannel)
}

// TestAnyJobIsRefusedOrFinite mixes sound and nonsense numbers anyhow.
func TestAnyJobIsRefusedOrFinite(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 5e-324, 1e-300, 1e-9, 1, 205, 1e9, 1e300, math.MaxFloat64}
	from := bodies(t)
	answered, refused := 0, 0
	for range 20 {
		rapid.Check(t, func(t *rapid.T) {
			j := randomJob(t, from)
			j.MaxDifferenceC = 5
			var places []reflect.Value
			numbers(reflect.ValueOf(&j).Elem(), "job", func(_ string, v reflect.Value) { places = append(places, v) })
			for range rapid.IntRange(0, 3).Draw(t, "changes") {
				v := rapid.SampledFrom(places).Draw(t, "place")
				if v.Kind() == reflect.Float64 {
					v.SetFloat(rapid.SampledFrom(odd).Draw(t, "nonsense"))
				} else {
					v.SetInt(rapid.SampledFrom([]int64{math.MinInt64, -1, 0, 1, 2, 3, 1000, math.MaxInt64}).Draw(t, "whole nonsense"))
				}
			}
			p, err := j.Pour(t.Context())
			switch {
			case err == nil:
				answered++
				checkFinite(t, reflect.ValueOf(p), "pour")
				if _, err := json.Marshal(p); err != nil {
					t.Error(err)
				}
			case ours(err):
				refused++
			default:
				t.Errorf("%v wraps no sentinel", err)
			}
		})
	}
	enough := 200
	if testing.Short() { // a fifth of the jobs
		enough = 40
	}
	if answered < enough || refused < enough {
		t.Errorf("%d jobs answered, %d refused: too few of one to mean much", answered, refused)
	}
}

// signed are the figures that may lie below zero: heights and temperatures are
// about a zero that somebody chose, rounding goes both ways, and a bait may float.
var signed = []string{".AskedMM", ".DeliveredMM", ".FirstMM", ".MovedMM", ".PourC", ".CeilingC", ".Off", ".BaitLeastG", ".Least", ".Most", ".PullG"}

// checkFinite looks at every number of an answer.
func checkFinite(t *rapid.T, v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			checkFinite(t, v.Elem(), path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			checkFinite(t, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice:
		for i := range v.Len() {
			checkFinite(t, v.Index(i), path)
		}
	case reflect.Int:
		if v.Int() < 0 {
			t.Errorf("%s is %d", path, v.Int())
		}
	case reflect.Float64:
		x, low := v.Float(), 0.0
		for _, s := range signed {
			if strings.HasSuffix(path, s) {
				low = -math.MaxFloat64
			}
		}
		if !(x >= low && x <= math.MaxFloat64) {
			t.Errorf("%s is %g", path, x)
		}
	}
}
