package main

import (
	"fmt"

	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate"
	"bellyline/laminate/order"
	"bellyline/mesh/mend"
)

func orderCommand() command {
	return command{
		name:    "order",
		summary: "several baits at once: heatings, cups, schedule, shopping, cost",
		usage:   "order ORDERFILE [flags]",
		examples: []string{
			"order examples/order.yaml",
			"order examples/order.yaml --compare examples/order-bigger.yaml",
		},
		prepare: func(c *call) func([]string) error {
			other := c.flags.String("compare", "", "put the plan beside that of another order `FILE`, say with more molds or a bigger vessel")
			mend := addMendFlags(c)
			return func(names []string) error { return planOrder(c, names, *other, mend) }
		},
	}
}

func planOrder(c *call, names []string, other string, mend *mendFlags) error {
	if len(names) != 1 {
		return usagef("needs the name of one order file")
	}
	if c.flags.Changed("compare") && other == "" {
		return usagef("--compare needs a name")
	}
	options, err := mend.options(c)
	if err != nil {
		return err
	}
	plan, err := planFile(c, names[0], options)
	if err != nil {
		return err
	}
	if other == "" {
		return show.Result(c.out, c.json, plan, show.OrderText)
	}
	second, err := planFile(c, other, options)
	if err != nil {
		return err
	}
	comparison := order.Compare(plan, second)
	return show.Result(c.out, c.json, &comparison, show.ComparisonText)
}

// planFile reads an order file with all that it names, and plans it.
func planFile(c *call, name string, mend mend.Options) (*order.Plan, error) {
	file, err := files.ReadOrder(name)
	if err != nil {
		return nil, err
	}
	o := order.Order{Name: file.Name, Bench: file.Shop.Bench, Money: file.Shop.Money, Measures: file.Shop.Measures, Leftovers: file.Leftovers}
	jobs := map[string]laminate.Job{} // by mold file: each model is read once
	pours := map[string]*laminate.Pour{}
	for _, l := range file.Lines {
		job, known := jobs[l.Mold.File]
		if !known {
			if job, err = makeJob(c, l.Mold, mend); err != nil {
				return nil, err
			}
			job.Streams = false
			jobs[l.Mold.File] = job
		}
		job.Colours, job.Injector, job.Vessel = l.Mold.Colours, l.Mold.Injector, l.Mold.Vessel
		pour := pours[l.Mold.File]
		if pour == nil || l.Recast {
			if pour, err = job.Pour(c.ctx); err != nil {
				return nil, withSizeDoubt(l.Mold.File, job.Cavity, err)
			}
		}
		if !l.Recast {
			pours[l.Mold.File] = pour
		}
		o.Lines = append(o.Lines, l.Line(job, pour))
	}
	plan, err := o.Plan(c.ctx)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return plan, nil
}
