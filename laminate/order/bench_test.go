package order

import (
	"context"
	"fmt"
	"testing"

	"bellyline/laminate"
)

// BenchmarkPlanFiftyLines plans 50 lines of 500 baits in two colours, ten different
// belly colours among them.
func BenchmarkPlanFiftyLines(b *testing.B) {
	base := benchOrder(b)
	b.ResetTimer()
	for b.Loop() {
		if _, err := base.Plan(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

func benchOrder(b *testing.B) Order {
	b.Helper()
	o := paperOrder(b)
	model := o.Lines[0]
	o.Lines = nil
	for i := range 50 {
		l := model
		l.Name, l.Pieces, l.Molds = fmt.Sprint("line ", i+1), 500, 3
		l.Job.Colours = append([]laminate.Colour{}, model.Job.Colours...)
		l.Job.Colours[0].Name = fmt.Sprint("belly ", i%10)
		o.Lines = append(o.Lines, l)
	}
	return o
}
