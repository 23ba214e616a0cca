// Package files reads and writes the YAML files of a shop: the shop file (materials,
// additives, injectors, vessels) and the mold file (one bait in one mold).
//
// Each kind of file has a table of its keys (Tables), which help prints. Its reader takes
// no key that stands in no table, and tells all mistakes of a reading at once, each with
// file, line, key and the fix.
package files
