// Package shop opens what a command or the bench works on, and is the only room that does.
//
// A Source is where things come from: a folder on the disk, or what was dropped on the
// page. Open makes a pour's job of it: it reads mold and shop file, reads, mends and
// measures the models that they name, and puts them into the job. Plan does the same for
// an order, Size for a mold that is not cut yet, Cool for the time that a bait stays in
// its mold. A Model opens by itself as a bait, a mold half or a measurement.
//
// Commands turn flags into options, make one call and show what comes back; the bench
// keeps what was opened. Errors name files and keys, never flags.
package shop
