// Command bellyline reads the STL of a soft-bait cavity and says what it holds,
// what the bait weighs, how much of each colour a double shot takes and what
// goes into each cup.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
