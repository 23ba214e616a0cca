package main

import (
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate/order"
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
	reach, err := mend.options(c)
	if err != nil {
		return err
	}
	options := shop.Options{Mend: reach, Progress: c.progress.update}
	plan, err := shop.Plan(c.ctx, names[0], options)
	if err != nil {
		return err
	}
	if other == "" {
		return show.Result(c.out, c.json, plan, show.OrderText)
	}
	second, err := shop.Plan(c.ctx, other, options)
	if err != nil {
		return err
	}
	comparison := order.Compare(plan, second)
	return show.Result(c.out, c.json, &comparison, show.ComparisonText)
}
