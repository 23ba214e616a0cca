package main

import (
	"errors"
	"fmt"
	"net"
	"net/netip"

	"bellyline/cmd/bellyline/bench"
	"bellyline/cmd/bellyline/show"
)

// benchFlags say where the page is to be had.
type benchFlags struct {
	listen    string
	noBrowser bool
}

func benchCommand() command {
	return command{
		name:    "bench",
		summary: "a page on this machine: turn the bait, drag the colour line, print the card",
		usage:   "bench [MOLDFILE | MODEL] [flags]",
		examples: []string{
			"bench examples/paddletail/mold.yaml",
			"bench bait.stl --no-browser",
			"bench      then drop a model, or a mold file with all that it names, on the page",
		},
		prepare: func(c *call) func([]string) error {
			var f benchFlags
			c.flags.StringVar(&f.listen, "listen", "127.0.0.1:0", "`ADDRESS` of this machine to listen at; port 0: one that is free")
			c.flags.BoolVar(&f.noBrowser, "no-browser", false, "print the page's address and open no browser")
			return func(names []string) error { return runBench(c, f, names) }
		},
	}
}

// benchAddress is what the command prints with --json.
type benchAddress struct {
	Address string `json:"address"`
}

func runBench(c *call, f benchFlags, names []string) error {
	if len(names) > 1 {
		return usagef("takes one mold file or one model")
	}
	if !isOwnAddress(f.listen) {
		return usagef("--listen %s: the bench is for this machine only; give an address like 127.0.0.1:8080", f.listen)
	}
	o := bench.Options{Progress: c.progress.update}
	if len(names) == 1 {
		o.File = names[0]
	}
	server, err := bench.New(c.ctx, o)
	if err != nil {
		return err
	}
	c.progress.clear()
	l, err := net.Listen("tcp", f.listen)
	if err != nil {
		return fmt.Errorf("cannot listen at %s: %w", f.listen, deepest(err))
	}
	at := "http://" + l.Addr().String() + "/"
	err = show.Result(c.now, c.json, benchAddress{at}, func(p *show.Page, a benchAddress) { p.Linef("%s", a.Address) })
	if err != nil {
		l.Close()
		return err
	}
	if !f.noBrowser {
		openBrowser(at)
	}
	return server.Serve(c.ctx, l)
}

// isOwnAddress tells an address that no other machine can reach.
func isOwnAddress(address string) bool {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return false
	}
	at, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && at.IsLoopback()
}

// deepest is the cause without what the network packages put before it.
func deepest(err error) error {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return err
		}
		err = inner
	}
}
