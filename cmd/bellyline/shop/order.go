package shop

import (
	"context"
	"fmt"

	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
	"bellyline/laminate/order"
)

// Plan reads an order file, "-" for standard input, with all that it names, and plans it.
// Each mold file is opened once.
func Plan(ctx context.Context, name string, opts Options) (*order.Plan, error) {
	file, err := files.ReadOrder(name)
	if err != nil {
		return nil, err
	}
	o := order.Order{Name: file.Name, Bench: file.Shop.Bench, Money: file.Shop.Money, Measures: file.Shop.Measures, Leftovers: file.Leftovers}
	molds := map[string]*Opened{} // by file
	pours := map[string]*laminate.Pour{}
	for _, l := range file.Lines {
		at := l.Mold.File
		opened := molds[at]
		if opened == nil {
			if opened, err = Open(ctx, named(l.Mold), opts); err != nil {
				return nil, err
			}
			molds[at] = opened
		}
		job := opened.JobOf(l.Mold)
		pour := pours[at]
		if pour == nil || l.Recast {
			if pour, err = opened.Pour(ctx, job); err != nil {
				return nil, err
			}
		}
		if !l.Recast {
			pours[at] = pour
		}
		o.Lines = append(o.Lines, l.Line(job, pour))
	}
	plan, err := o.Plan(ctx)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return plan, nil
}
