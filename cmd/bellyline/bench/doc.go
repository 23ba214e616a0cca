// Package bench is a page on this machine: the bait in three dimensions, its colour
// line to drag, and what a pour takes, worked out anew at every change.
//
// The page draws and asks; it computes nothing. It has no paths: files come from the
// command line or are dropped on it, and go out as downloads. Every tab holds its own
// work, every question brings all of its settings, so that tabs cannot mix.
//
//   - guard: who may ask
//   - server, api: what can be asked, see DEVELOPERS.md
//   - sessions: the works that are open
//   - open: what the room shop opened, and what the page says of its model
//   - settings: what the page changes, put into the mold file's own words
//   - line: the lines that can be asked for
//   - answer, sheet: the pour, and the same as rows of text
//   - parts: what a line as drawn gives to each colour
//   - shape: a thinned copy of the model to draw, what is wrong with it lit
//   - tables: the model and the hollows as rows of text
//   - halves: a mold half seen from above
//   - save: mold file, pour card, colour bodies
package bench
