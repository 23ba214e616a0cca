package main

import (
	"bufio"
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bellyline/cmd/bellyline/show"
)

// modelsTable has what other programs found in real models, a line each.
var modelsTable = filepath.Join("..", "..", "testdata", "models.tsv")

// realModel is one line of modelsTable: its cells by the heading of their column.
type realModel map[string]string

func (m realModel) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(m[column], 64)
	if err != nil {
		t.Fatalf("%s, column %s: %v", m["file"], column, err)
	}
	return x
}

// realModels reads the table. The models themselves are other people's work: where
// BELLYLINE_MODELS does not name their folder the test is skipped, except where
// CI=true promises that nothing is skipped.
func realModels(t *testing.T) (folder string, models []realModel) {
	t.Helper()
	folder = os.Getenv("BELLYLINE_MODELS")
	if folder == "" {
		const reason = "BELLYLINE_MODELS does not name the folder of real models"
		if os.Getenv("CI") == "true" {
			t.Fatal(reason)
		}
		t.Skip(reason)
	}
	text, err := os.ReadFile(modelsTable)
	if err != nil {
		t.Fatal(err)
	}
	var heads []string
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() {
		cells := strings.Split(lines.Text(), "\t")
		if heads == nil {
			heads = cells
			continue
		}
		m := realModel{}
		for i, cell := range cells {
			m[heads[i]] = cell
		}
		models = append(models, m)
	}
	if len(models) == 0 {
		t.Fatal("no model is listed")
	}
	return folder, models
}

// refused are the models that cannot be read, with the word that says why: their
// counts and bytes do not hold together.
var refused = map[string]string{
	"npm_stlmodels_wrong_count.stl":  "promises 66 facets",
	"npm_stlmodels_utf8_mangled.stl": "EF BF BD",
}

// The program's answer for every real model: the volume that other programs
// found where the surface is closed, no volume and a reason where it is not, a
// refusal of what is broken.
func TestMeasureRealModels(t *testing.T) {
	folder, models := realModels(t)
	for _, want := range models {
		t.Run(want["file"], func(t *testing.T) {
			path := filepath.Join(folder, want["file"])
			if _, err := os.Stat(path); err != nil {
				served := strings.HasPrefix(want["source"], "npm:") || strings.HasPrefix(want["source"], "apt:")
				if served && os.Getenv("CI") == "true" {
					t.Fatal(err)
				}
				t.Skip("not in the folder of real models")
			}
			switch why, bad := refused[want["file"]]; {
			case bad:
				refusesModel(t, path, why)
			case strings.HasPrefix(want["watertight"], "no") && want["file"] != twoInOne:
				givesNoVolume(t, path)
			default:
				agrees(t, path, want)
			}
		})
	}
}

// twoInOne is two binary files in one. The other programs stopped after the
// first, which is open; both together are closed.
const twoInOne = "npm_nodestl_raspi_housing.stl"

// refusesModel wants exit status 1, nothing on stdout and one line that says why.
func refusesModel(t *testing.T, path, why string) {
	t.Helper()
	var out, talk bytes.Buffer
	status := run(context.Background(), []string{"measure", path}, &out, &talk)
	line := talk.String()
	if status != exitNoAnswer || out.Len() != 0 || strings.Count(line, "\n") != 1 || !strings.Contains(line, why) || !strings.Contains(line, filepath.Base(path)) {
		t.Errorf("exit status %d, stdout %q, stderr %q", status, out.String(), line)
	}
}

func givesNoVolume(t *testing.T, path string) {
	t.Helper()
	m := decode[show.Measured](t, exitNoAnswer, "measure", path).Models[0]
	if m.VolumeMM3 != nil || m.FillVolumeMM3 != nil || m.Closed || m.Reason == "" || len(m.Problems) == 0 {
		t.Errorf("volume %v, fill volume %v, closed %v, reason %q, %d problems", m.VolumeMM3, m.FillVolumeMM3, m.Closed, m.Reason, len(m.Problems))
	}
}

// agrees compares with the table's figures, which have eight digits.
func agrees(t *testing.T, path string, want realModel) {
	t.Helper()
	m := measureOne(t, path)
	volume, facets := want.number(t, "own_signed_volume"), want.number(t, "triangles")
	if want["file"] == twoInOne {
		// 1656 facets before, 288 behind; whoever made the list of models worked out the
		// volume of both.
		volume, facets = 139853.002, 1656+288
	}
	const printed = 1e-7
	if math.Abs(*m.VolumeMM3-volume) > printed*volume {
		t.Errorf("volume %.10g mm3, others find %.10g", *m.VolumeMM3, volume)
	}
	if area := want.number(t, "own_area"); want["file"] != twoInOne && math.Abs(m.AreaMM2-area) > printed*area {
		t.Errorf("area %.10g mm2, others find %.10g", m.AreaMM2, area)
	}
	if float64(m.Triangles) != facets || !m.Closed {
		t.Errorf("%d facets, closed %v, others find %g and closed", m.Triangles, m.Closed, facets)
	}
	// The list of models has two estimates of the one overlap that there is, 4.34 % and
	// (1.8405-1.763)/1.8405 = 4.21 %, so neither is better than some thousandths.
	overlap := want.number(t, "overlap_fraction")
	if got := *m.OverlapMM3 / *m.VolumeMM3; math.Abs(got-overlap) > 0.003 || (overlap == 0) != (*m.OverlapMM3 == 0) {
		t.Errorf("overlap %.5f of the volume, others find %.5f", got, overlap)
	}
}
