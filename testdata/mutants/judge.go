package main

import (
	"encoding/json"
	"fmt"
	"math"
)

// measured is what is looked at of `measure --json`.
type measured struct {
	Models []struct {
		OverlapMM3 *float64   `json:"overlap_mm3"`
		FillMM3    *float64   `json:"fill_volume_mm3"`
		ErrorMM3   *float64   `json:"fill_error_mm3"`
		StepMM3    *float64   `json:"step_mm3"`
		SizeMM     [3]float64 `json:"size_mm"`
		Mends      []struct {
			VolumeMM3 float64 `json:"volume_mm3"`
		} `json:"mends"`
	} `json:"models"`
}

// rounding is what sums in float64 and the digits of text are off by, as a share.
const rounding = 1e-8

// answer is what measure says.
type answer struct {
	volumeMM3, boundMM3 float64
	overlaps            bool
}

// judgeMeasure returns what is held, and why that cannot be, if it cannot: it is no
// number, more than the box round the model, or further from what is known than all
// bounds together.
func judgeMeasure(stdout []byte, m *mutant) (answer, string) {
	var got measured
	if err := json.Unmarshal(stdout, &got); err != nil || len(got.Models) != 1 {
		return answer{}, fmt.Sprintf("no JSON: %v", err)
	}
	one := got.Models[0]
	if one.FillMM3 == nil || one.ErrorMM3 == nil || one.StepMM3 == nil || one.OverlapMM3 == nil {
		return answer{}, "no volume, and yet no refusal"
	}
	held, bound := *one.FillMM3, *one.ErrorMM3+*one.StepMM3
	for _, d := range one.Mends {
		bound += d.VolumeMM3
	}
	said := answer{held, bound, *one.OverlapMM3 > 0}
	box := one.SizeMM[0] * one.SizeMM[1] * one.SizeMM[2]
	switch {
	case math.IsNaN(held) || math.IsInf(held, 0) || held < 0 || !(bound >= 0):
		return said, fmt.Sprintf("holds %g within %g", held, bound)
	case held > box*(1+rounding)+bound:
		return said, fmt.Sprintf("holds %g, its box only %g", held, box)
	case m.high > 0 && (held < m.low*(1-rounding)-bound || held > m.high*(1+rounding)+bound):
		return said, fmt.Sprintf("holds %g within %g, known is %g to %g", held, bound, m.low, m.high)
	}
	return said, ""
}

// judgeSplit says why two colours of 40/60 cannot be: together they are not what is
// held, or the share is further off than the bound of the whole allows.
func judgeSplit(stdout []byte, held answer) string {
	var got struct {
		Colours []struct {
			VolumeMM3 float64 `json:"volume_mm3"`
			Share     float64 `json:"share"`
		} `json:"colours"`
	}
	if err := json.Unmarshal(stdout, &got); err != nil || len(got.Colours) != 2 {
		return fmt.Sprintf("no JSON: %v", err)
	}
	sum := got.Colours[0].VolumeMM3 + got.Colours[1].VolumeMM3
	if !(math.Abs(sum-held.volumeMM3) <= rounding*held.volumeMM3+held.boundMM3) || !(math.Abs(got.Colours[0].Share-0.4)*held.volumeMM3 <= 1e-6*held.volumeMM3+held.boundMM3) {
		return fmt.Sprintf("colours of %g, %g, share %g, of %g in all", got.Colours[0].VolumeMM3, got.Colours[1].VolumeMM3, got.Colours[0].Share, held.volumeMM3)
	}
	return ""
}

// judgeSize says why a mold cannot be: its cavity is not what is held.
func judgeSize(stdout []byte, held answer) string {
	var got struct {
		CavityML float64 `json:"cavity_ml"`
		Cavities int     `json:"cavities"`
	}
	if err := json.Unmarshal(stdout, &got); err != nil {
		return fmt.Sprintf("no JSON: %v", err)
	}
	if !(math.Abs(1000*got.CavityML-held.volumeMM3) <= rounding*held.volumeMM3+held.boundMM3) || got.Cavities < 1 {
		return fmt.Sprintf("%d cavities of %g mL, held are %g mm3", got.Cavities, got.CavityML, held.volumeMM3)
	}
	return ""
}
