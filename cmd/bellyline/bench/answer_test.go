package bench

import (
	"encoding/json"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
	"bellyline/mesh/stl"
)

// moldFiles are those of the invented shop, one and two colours, with a model and without.
var moldFiles = [][]string{{"paddletail", "mold.yaml"}, {"ringgrub", "mold.yaml"}, {"clawcraw", "mold.yaml"}, {"clawcraw", "laminate.yaml"}, {"shadmold", "mold.yaml"}, {"weighed.yaml"}}

func answerTo(t testing.TB, s *Server, id string, ask settings) answer {
	t.Helper()
	return decode[answer](t, post(t, s, "/api/work/"+id+"/answer", ask))
}

// at finds a value by its key in decoded JSON: "shot.colours.0.total_ml".
func at(t *testing.T, v any, key string) any {
	t.Helper()
	for part := range strings.SplitSeq(key, ".") {
		switch x := v.(type) {
		case map[string]any:
			v = x[part]
		case []any:
			i, err := strconv.Atoi(part)
			if err != nil || i >= len(x) {
				t.Fatalf("%s: no %q in a list of %d", key, part, len(x))
			}
			v = x[i]
		default:
			t.Fatalf("%s: nothing at %q", key, part)
		}
	}
	return v
}

var firstNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)

// inUS is what one unit of the metric column is in that of the US column, by the
// units' definitions: 1 in = 25.4 mm, 1 fl oz = 29.5735295625 mL, 1 oz = 28.349523125 g,
// 1 lb = 16 oz.
var inUS = map[string]float64{"mm in": 1 / 25.4, "mm² in²": 1 / 25.4 / 25.4, "mL fl oz": 1 / 29.5735295625, "g oz": 1 / 28.349523125, "g lb": 1 / 453.59237, "kg lb": 1 / 0.45359237}

var unitWord = regexp.MustCompile(`(mm²|mm|mL|kg|g|in²|in|fl oz|oz|lb)$`)

// Every row of the sheet says what the JSON of the pour says at its key, in both
// systems, to half of the last digit shown.
func TestRowsSayWhatTheJSONSays(t *testing.T) {
	for _, name := range moldFiles {
		s := newBench(t, Options{File: example(name...)})
		o := openFirst(t, s)
		a := answerTo(t, s, o.ID, o.Settings)
		if a.Error != "" {
			t.Fatalf("%v: %s", name, a.Error)
		}
		text, err := json.Marshal(a.Pour)
		if err != nil {
			t.Fatal(err)
		}
		pour := decode[any](t, text)
		rows, inBoth := 0, 0
		for _, g := range a.Sheet {
			for _, r := range g.Rows {
				rows++
				want, isNumber := at(t, pour, r.Key).(float64)
				switch {
				case strings.HasSuffix(r.Key, "_share"):
					if r.Metric != units.ShareText(want) {
						t.Errorf("%v: %s is %q for %g", name, r.Key, r.Metric, want)
					}
					continue
				case !isNumber:
					t.Errorf("%v: %s is no number", name, r.Key)
					continue
				}
				sameAsShown(t, r.Key, r.Metric, want, 1)
				from, to := unitWord.FindString(r.Metric), unitWord.FindString(r.US)
				if factor, ok := inUS[from+" "+to]; ok {
					inBoth++
					sameAsShown(t, r.Key+" in US", r.US, want, factor)
				}
				if strings.HasSuffix(r.Metric, " C") && r.Key != "max_apart_c" {
					inBoth++
					sameAsShown(t, r.Key+" in F", r.US, want*9/5+32, 1)
				}
			}
		}
		if rows < 20 || inBoth < 8 {
			t.Errorf("%v: %d rows, %d in both systems: the sheet is not whole", name, rows, inBoth)
		}
	}
}

// sameAsShown compares a text with a value to half of its last digit.
func sameAsShown(t *testing.T, key, text string, want, factor float64) {
	t.Helper()
	number := firstNumber.FindString(text)
	got, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Errorf("%s: %q shows no number", key, text)
		return
	}
	if strings.Contains(text, " kg") {
		want /= 1000
		factor *= 1000 // of a gram's factor nothing is left
		if strings.HasSuffix(key, "US") {
			want, factor = want*1000, factor/1000
		} else {
			factor = 1
		}
	}
	_, fraction, _ := strings.Cut(number, ".")
	if half := 0.5000001 * math.Pow(10, -float64(len(fraction))); math.Abs(got-want*factor) > half {
		t.Errorf("%s: %q is shown for %.9g", key, text, want*factor)
	}
}

// What was saved reads as what was shown, for every file and with everything changed.
func TestSavedMoldFileIsWhatIsShown(t *testing.T) {
	for _, name := range moldFiles {
		s := newBench(t, Options{File: example(name...)})
		o := openFirst(t, s)
		ask := o.Settings
		ask.Baits = 33
		ask.Vessel = "pint cup"
		ask.Colours[0].Pour = "345F"
		ask.Colours[0].Mix = append(ask.Colours[0].Mix, files.DoseText{Additive: "anise oil", PerCup: "6 drops"})
		if len(ask.Colours) == 2 {
			ask.Injector = "hand pair"
			ask.Colours[0].Barrel, ask.Colours[1].Barrel = "right", "left"
			ask.HeightMM, ask.Share = nil, "37.5/62.5"
		}
		if o.Kind == "bait" && len(ask.Colours) == 2 {
			ask.Line.Kind, ask.Line.TiltDeg, ask.Line.RollDeg = "tilted", 3, -2
		}
		want := answerTo(t, s, o.ID, ask)
		if want.Error != "" {
			t.Fatalf("%v: %s", name, want.Error)
		}
		saved := post(t, s, "/api/work/"+o.ID+"/save/mold", ask)
		w := s.sessions.get(o.ID)
		again, err := w.read(saved)
		if err != nil {
			t.Fatalf("%v: %v in\n%s", name, err, saved)
		}
		job := again.Job()
		job.Feed = w.Job.Feed
		job.Cavity, job.Cavities = w.Job.Cavity, w.Job.Cavities
		got, err := job.Pour(t.Context())
		if err != nil {
			t.Fatalf("%v: %v", name, err)
		}
		near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(a)) })
		hidden := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".baitG" || p.Last().String() == ".feedG" || p.Last().String() == ".Sheet"
		}, cmp.Ignore())
		if diff := cmp.Diff(want.Pour, got, near, hidden); diff != "" {
			t.Errorf("%v (- shown, + saved):\n%s", name, diff)
		}
	}
}

// What is changed is refused in the words of the mold file's own reader.
func TestRefusalsOfSettings(t *testing.T) {
	s := newBench(t, Options{File: example("paddletail", "mold.yaml")})
	o := openFirst(t, s)
	for want, change := range map[string]func(*settings){
		`salt: amount "a lot": no number; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`:             func(a *settings) { a.Colours[0].Mix[1].PerCup = "a lot" },
		`pour: 400 F (204 C) is past this material's own ceiling of 375 F (191 C)`:                         func(a *settings) { a.Colours[1].Pour = "400F" },
		`pour: 212 F (100 C) does not melt vinyl together; was C written as F?`:                            func(a *settings) { a.Colours[1].Pour = "100C" },
		`share "40/50": the two shares must make 100; write it like 40/60, 40 % or 0.4`:                    func(a *settings) { a.Share = "40/50" },
		`cannot pour this: the line at 99.000 mm misses the bait, which reaches from -13.967 to 15.133 mm`: func(a *settings) { h := 99.0; a.HeightMM = &h },
		`injector: "single" has one barrel; two colours need an injector with two`:                         func(a *settings) { a.Injector = "single" },
		`cannot pour this: a line tilts by at most 80 degrees, not by 85 and 0`:                            func(a *settings) { a.Line.Kind, a.Line.TiltDeg = "tilted", 85 },
		`cannot pour this: a drawn line has 2 to 1000 points, not 1`:                                       func(a *settings) { a.Line.Kind, a.Line.Points = "drawn", [][2]float64{{0, 0}} },
		`the bench shows no line of the kind core; ask bellyline split --line`:                             func(a *settings) { a.Line.Kind = "core" },
		`barrel: the left barrel holds the first colour; give the other`:                                   func(a *settings) { a.Colours[1].Barrel = "left" },
		`cavities: 0 lies outside 1 to 1000; write it like 2`:                                              func(a *settings) { a.Cavities = 0 },
		`order: -5 lies outside 1 to 10000000; write it like 40`:                                           func(a *settings) { a.Baits = -5 },
	} {
		ask := decode[opened](t, post(t, s, "/api/open", nil)).Settings
		change(&ask)
		a := answerTo(t, s, o.ID, ask)
		if a.Error != want || a.Pour != nil || len(a.Sheet) != 0 {
			t.Errorf("got  %s\nwant %s (pour %v, %d groups)", a.Error, want, a.Pour != nil, len(a.Sheet))
		}
	}
}

// A malformed STL is refused in the sentence of stl.ReadFile, which the command line
// prints.
func TestMalformedUpload(t *testing.T) {
	s := newBench(t, Options{})
	cut := tetrahedron(30)
	for _, data := range [][]byte{{}, cut[:len(cut)-20], cut[:len(cut)-60], []byte("solid x\nfacet normal 0 0 0\nouter loop\nvertex 1 2\n"), []byte("no model at all, but long enough to be one of some kind, or so it may seem to a reader of files")} {
		path := filepath.Join(t.TempDir(), "bait.stl")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := stl.ReadFile(t.Context(), path, stl.ReadOptions{})
		if err == nil {
			t.Fatalf("%q is read", data)
		}
		w := upload(t, s, file{"bait.stl", data})
		if got, want := refusal(t, w), strings.Replace(err.Error(), path, "bait.stl", 1); w.Code != http.StatusUnprocessableEntity || got != want {
			t.Errorf("status %d\ngot  %s\nwant %s", w.Code, got, want)
		}
	}
}

// A bait that is open is shown with its three open edges and no number; mended, it
// holds a sixth of the cube.
func TestBrokenModelIsShownAndMended(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"bait.stl", openTetrahedron(30)}).Body.Bytes())
	if o.Kind != "broken" || o.Wrong != 3 || o.Measured.Reason == "" || o.Measured.FillVolumeMM3 != nil {
		t.Fatalf("kind %s, %d edges lit, %q", o.Kind, o.Wrong, o.Measured.Reason)
	}
	if code, _ := try(t, s, "/api/work/"+o.ID+"/answer", o.Settings); code != http.StatusUnprocessableEntity {
		t.Errorf("a broken model is poured: status %d", code)
	}
	o.Reading.Mend = true
	m := decode[opened](t, post(t, s, "/api/work/"+o.ID+"/read", o.Reading))
	if m.Kind != "bait" || math.Abs(*m.Measured.FillVolumeMM3-30*30*30/6.0) > 1e-9 || len(m.Measured.Mends) == 0 {
		t.Errorf("mended: kind %s, %+v", m.Kind, m.Measured)
	}
}

// The same model in inches holds 25.4^3 times as much.
func TestReadingAgain(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"bait.stl", tetrahedron(2)}).Body.Bytes())
	r := o.Reading
	r.Unit, r.Back, r.Nose = "in", "-x", "+y"
	in := decode[opened](t, post(t, s, "/api/work/"+o.ID+"/read", r))
	if got, want := *in.Measured.FillVolumeMM3, 8/6.0*25.4*25.4*25.4; math.Abs(got-want) > 1e-6*want {
		t.Errorf("%g mm3, want %g", got, want)
	}
	if in.Back != [3]float64{-1, 0, 0} || in.Reading.Back != "-x" {
		t.Errorf("back %v, read as %+v", in.Back, in.Reading)
	}
	r.Nose = "+x"
	if code, body := try(t, s, "/api/work/"+o.ID+"/read", r); code != http.StatusUnprocessableEntity || !strings.Contains(string(body), "back and nose lie along one line") {
		t.Errorf("status %d: %s", code, body)
	}
}

// Two tabs are two works: what one asks is nothing to the other, and closing one
// leaves the other open.
func TestTabsAreApart(t *testing.T) {
	s := newBench(t, Options{File: example("clawcraw", "laminate.yaml")})
	a, b := openFirst(t, s), openFirst(t, s)
	ask := a.Settings
	h := 1.5
	ask.HeightMM = &h
	first := answerTo(t, s, a.ID, ask)
	second := answerTo(t, s, b.ID, b.Settings)
	if *first.Line.AskedMM != 1.5 || *second.Line.AskedMM != 0 {
		t.Errorf("asked 1.5 and 0, got %g and %g", *first.Line.AskedMM, *second.Line.AskedMM)
	}
	post(t, s, "/api/work/"+a.ID+"/close", nil)
	if code, _ := try(t, s, "/api/work/"+a.ID+"/answer", ask); code != http.StatusNotFound {
		t.Errorf("a closed work answers: status %d", code)
	}
	answerTo(t, s, b.ID, b.Settings)
}

func TestOldWorksAreLetGo(t *testing.T) {
	s := newBench(t, Options{File: example("weighed.yaml")})
	first := openFirst(t, s)
	for range mostOpen {
		openFirst(t, s)
	}
	if got := len(s.sessions.works); got != mostOpen {
		t.Errorf("%d works are open, want %d", got, mostOpen)
	}
	if code, body := try(t, s, "/api/work/"+first.ID+"/answer", first.Settings); code != http.StatusNotFound || !strings.Contains(string(body), "open the file again") {
		t.Errorf("status %d: %s", code, body)
	}
}

func TestStarterIsSaidToBeInvented(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"minnow.stl", tetrahedron(30)}).Body.Bytes())
	if len(o.Notes) != 1 || o.Notes[0] != starterNote || o.Bait != "minnow" {
		t.Errorf("bait %q, notes %q", o.Bait, o.Notes)
	}
	set := files.Set{"minnow.yaml": post(t, s, "/api/work/"+o.ID+"/save/mold", o.Settings), "shop.yaml": post(t, s, "/api/work/"+o.ID+"/save/shop", o.Settings)}
	if _, err := set.ReadMold("minnow.yaml"); err != nil {
		t.Errorf("what was saved does not read: %v", err)
	}
	own := newBench(t, Options{File: example("weighed.yaml")})
	if o := openFirst(t, own); len(o.Notes) != 0 {
		t.Errorf("a shop of one's own is said to be invented: %q", o.Notes)
	}
}

// The two bodies of a saved line make up the bait.
func TestSavedBodiesMakeUpTheBait(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"bait.stl", tetrahedron(30)}).Body.Bytes())
	ask := o.Settings
	h := 15.0
	ask.HeightMM = &h
	total := 0.0
	for _, what := range []string{"belly", "back"} {
		body := decode[opened](t, upload(t, s, file{what + ".stl", post(t, s, "/api/work/"+o.ID+"/save/"+what, ask)}).Body.Bytes())
		if body.Kind != "bait" {
			t.Fatalf("%s: %s", what, body.Measured.Reason)
		}
		total += *body.Measured.FillVolumeMM3
		if what == "back" && math.Abs(*body.Measured.FillVolumeMM3-15*15*15/6.0) > 1e-3 {
			t.Errorf("above half of its height a corner holds an eighth, not %g mm3", *body.Measured.FillVolumeMM3)
		}
	}
	if math.Abs(total-4500) > 1e-3 {
		t.Errorf("the bodies hold %g mm3, the bait 4500", total)
	}
}

// A mold file, its shop file and its models dropped together are what the command
// line opens.
func TestDroppedMoldFile(t *testing.T) {
	onDisk := newBench(t, Options{File: example("paddletail", "mold.yaml")})
	o := openFirst(t, onDisk)
	want := answerTo(t, onDisk, o.ID, o.Settings)
	s := newBench(t, Options{})
	d := decode[opened](t, upload(t, s, readFile(t, "paddletail", "bait.stl"), readFile(t, "shop.yaml"), readFile(t, "paddletail", "mold.yaml"), readFile(t, "paddletail", "runner.stl")).Body.Bytes())
	got := answerTo(t, s, d.ID, d.Settings)
	if diff := cmp.Diff(want.Pour, got.Pour, cmp.AllowUnexported(laminate.ShotColour{})); diff != "" {
		t.Errorf("(- on the disk, + dropped):\n%s", diff)
	}
}

// A mold half that is dropped is doubted as a bait; said to be a half, its hollows are
// drawn: the invented shads' half has four cavities, a runner and holes for pins.
func TestMoldHalf(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, readFile(t, "shadmold", "plain-half.stl")).Body.Bytes())
	if o.Kind != "bait" || len(o.Notes) != 2 || o.Notes[0] != halfNote {
		t.Errorf("kind %s, notes %q", o.Kind, o.Notes)
	}
	r := o.Reading
	r.Half = true
	h := decode[opened](t, post(t, s, "/api/work/"+o.ID+"/read", r))
	if h.Kind != "half" || len(h.Views) != len(h.Half.Hollows) || len(h.Outline) < 4 || h.Half.Warnings == nil {
		t.Fatalf("kind %s, %d views of %d hollows, outline of %d", h.Kind, len(h.Views), len(h.Half.Hollows), len(h.Outline))
	}
	count := map[string]int{}
	for _, v := range h.Views {
		count[v.Kind]++
		if len(v.Outlines) == 0 {
			t.Errorf("hollow %d has no outline", v.ID)
		}
		if v.Kind == "cavity" && (v.Depths == nil || !strings.HasPrefix(v.Depths.PNG, "data:image/png;base64,")) {
			t.Errorf("cavity %d has no picture", v.ID)
		}
	}
	if count["cavity"] != 4 || count["runner"] != 1 {
		t.Errorf("hollows by kind: %v", count)
	}
	bait := decode[opened](t, upload(t, s, readFile(t, "ringgrub", "bait.stl")).Body.Bytes())
	if slices.Contains(bait.Notes, halfNote) {
		t.Error("a bait is taken for a mold half")
	}
}
