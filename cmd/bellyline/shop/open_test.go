package shop

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/mend"
	"bellyline/mesh/stl"
)

// holed is a model without the facets round one corner: a hole that is not flat, so that
// closing it can change the volume.
func holed(t *testing.T, path string) []byte {
	t.Helper()
	model, err := stl.ReadFile(t.Context(), path, stl.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	m := model.Mesh
	lost := m.Triangles[len(m.Triangles)/2][0]
	kept := slices.DeleteFunc(slices.Clone(m.Triangles), func(f [3]int32) bool { return slices.Contains(f[:], lost) })
	out := filepath.Join(t.TempDir(), "holed.stl")
	if err := stl.WriteFile(out, "holed", &mesh.Mesh{Vertices: m.Vertices, Triangles: kept}); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// sources are one mold file of the examples with one of its models holed: on the disk, and
// as it would be dropped.
func sources(t *testing.T, folder, broken string) map[string]*Source {
	t.Helper()
	examples := filepath.Join("..", "..", "..", "examples")
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(examples)); err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(dir, folder)
	if err := os.WriteFile(filepath.Join(at, broken), holed(t, filepath.Join(at, broken)), 0o600); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, name := range []string{"../shop.yaml", "mold.yaml", "bait.stl", "runner.stl", "plain-half.stl", "marked-half.stl"} {
		if data, err := os.ReadFile(filepath.Join(at, name)); err == nil {
			files[filepath.Base(name)] = data
		}
	}
	onDisk, err := OnDisk(filepath.Join(at, "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	dropped, err := Dropped(files)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*Source{"on disk": onDisk, "dropped": dropped}
}

// Whatever model of a mold file is broken, it is refused unless it may be mended, and then
// mended, on the disk as on the page. The page once mended only the bait.
func TestAllModelsAreMended(t *testing.T) {
	for _, c := range []struct{ folder, broken string }{{"paddletail", "bait.stl"}, {"paddletail", "runner.stl"}} {
		t.Run(c.broken, func(t *testing.T) {
			var jobs []*Opened
			for name, s := range sources(t, c.folder, c.broken) {
				if _, err := Open(t.Context(), s, Options{}); !errors.Is(err, cavity.ErrNoVolume) || !strings.Contains(err.Error(), c.broken) {
					t.Errorf("%s, not mended: %v", name, err)
				}
				o, err := Open(t.Context(), s, Options{Mend: mend.Options{Allow: true, HoleMM: 100}})
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				jobs = append(jobs, o)
			}
			a, b := jobs[0].Job, jobs[1].Job
			if a.Cavity.FillMM3 != b.Cavity.FillMM3 || a.Feed[1].VolumeML != b.Feed[1].VolumeML || !(a.Feed[1].VolumeML > 0) {
				t.Errorf("%g mm3 and %g mL of runner on one way, %g and %g on the other", a.Cavity.FillMM3, a.Feed[1].VolumeML, b.Cavity.FillMM3, b.Feed[1].VolumeML)
			}
		})
	}
}

// A half with a hole is measured all the same, as long as its hollows are whole; where it
// may be mended it is, and says so.
func TestHalvesAreMended(t *testing.T) {
	for name, s := range sources(t, "shadmold", "plain-half.stl") {
		for allow, want := range map[bool]string{false: "--mend", true: "mended: "} {
			o, err := Open(t.Context(), s, Options{Mend: mend.Options{Allow: allow, HoleMM: 1000}})
			if err != nil {
				t.Logf("%s, mending %v: %v", name, allow, err)
				if allow {
					t.Errorf("%s: %v", name, err)
				}
				continue
			}
			if !slices.ContainsFunc(o.Job.Cavity.Warnings, func(w string) bool { return strings.Contains(w, want) }) {
				t.Errorf("%s, mending %v: no warning says %q: %q", name, allow, want, o.Job.Cavity.Warnings)
			}
		}
	}
}

// A source that was kept reads a changed text with its own shop file, and the job of that
// keeps what the models hold.
func TestJobOfAChangedText(t *testing.T) {
	s, err := Kept(filepath.Join("..", "..", "..", "examples", "shadmold", "mold.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	o, err := Open(t.Context(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.Read([]byte(strings.Replace(string(s.Text()), "order: 100", "order: 12", 1)))
	if err != nil {
		t.Fatal(err)
	}
	job := o.JobOf(m)
	if job.Baits != 12 || job.Cavity != o.Job.Cavity || job.Cavities != 4 || len(job.Feed) != 2 {
		t.Errorf("%d baits, %d cavities, feed %v", job.Baits, job.Cavities, job.Feed)
	}
}
