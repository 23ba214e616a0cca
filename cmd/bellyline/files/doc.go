// Package files reads the two YAML files of a shop: the shop file (materials,
// additives, injectors, vessels) and the mold file (one bait in one mold).
//
// Each file is walked key by key, so that every error names file, line, key and
// the fix, and a misspelt key is never silently ignored.
package files
