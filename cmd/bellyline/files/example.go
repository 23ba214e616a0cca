package files

import (
	"regexp"
	"strings"
)

// examples shows a line for each key that a file must have, by the path of the
// key; * stands for a name that the shop chose.
var examples = map[string]string{
	"shop":     "shop: ../shop.yaml in a mold file, the shop's own name in a shop file",
	"bait":     "bait: 4 in paddle tail",
	"mold":     "mold: twin swimmer",
	"cavities": "cavities: 2",
	"feed":     "feed: {runner: {volume: 6 mL}}",
	"injector": "injector: twin",
	"vessel":   "vessel: quart cup",
	"line":     "line: {belly_share: 40/60}",
	"colours":  "colours: and below it a line for each, belly first, like - {name: belly, material: soft, ...}",

	"feed.*.length":   "length: 60 mm",
	"feed.*.diameter": "diameter: 6 mm",
	"feed.*.width":    "width: 6 mm",
	"feed.*.depth":    "depth: 5 mm",

	"sides.*": "belly: 2, how many cavities lie on the side of the runner that this colour's stream faces",

	"weighings.water": "water: 68F, the fresh water that the baits hung in",
	"weighings.*.air": "air: 12.1 g",

	"hook.weight": "weight: 2 g",
	"hook.volume": "volume: 0.25 mL, of water that it pushes up in a full glass",

	"line.shares": "shares: 20/50/30",

	"colours.name":     "name: belly",
	"colours.material": "material: soft",
	"colours.barrel":   "barrel: left",
	"colours.half":     "half: marked half, the mold half that this colour lies in",

	"materials":             "materials: {soft: {density: 1.02, expansion: 0.0006, pour: 340F, ceiling: 375F}}",
	"materials.*.density":   "density: 1.02",
	"materials.*.expansion": "expansion: 0.0006, by volume for each degree C (fill a cup hot, mark it, let it set: lost height over height, over the degrees it cooled)",
	"materials.*.pour":      "pour: 340F",
	"materials.*.ceiling":   "ceiling: 375F",

	"additives.*.true": "true: 2.165, the density in g/mL of the substance itself",
	"additives.*.when": "when: before heating",

	"lines":                       "lines: and below it a line for each bait, like - {mold: paddletail/mold.yaml, packs: 12}",
	"leftovers.colour":            "colour: belly, as the plan calls it",
	"leftovers.weight":            "weight: 250 g",
	"leftovers.heated":            "heated: 1, how often it has been heated so far",
	"lines.mold":                  "mold: paddletail/mold.yaml, the mold file of the bait",
	"order":                       "order: boxes for spring",
	"vessels.*.cooled":            "cooled: {from: 340F, to: 320F, in: 4 min}",
	"injectors":                   "injectors: {single: {barrels: {barrel: {holds: 8 fl oz}}}}",
	"injectors.*.barrels":         "barrels: {left: {bore: 1 1/4 in, holds: 6 fl oz}, right: {bore: 1 1/4 in, holds: 6 fl oz}}",
	"injectors.*.drive":           "drive: ganged (one handle) or drive: independent",
	"injectors.*.barrels.*.holds": "holds: 6 fl oz",

	"vessels":         "vessels: {quart cup: {holds: 4 cups}}",
	"vessels.*.holds": "holds: 4 cups",
}

var listIndex = regexp.MustCompile(`\[\d+\]`)

// exampleOf returns ", like ..." for a key that is missing, or nothing.
func exampleOf(key string) string {
	parts := strings.Split(listIndex.ReplaceAllString(key, ""), ".")
	for i := 1; i < len(parts)-1; i += 2 {
		parts[i] = "*"
	}
	if e, ok := examples[strings.Join(parts, ".")]; ok {
		return ", like " + e
	}
	return ""
}
