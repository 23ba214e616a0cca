package files

import (
	"cmp"
	"slices"
	"strings"
)

// nearest returns the name that a misspelt one most likely means, or "" when
// none is near: one slip in a word of up to four letters, two in a longer one.
// The case of letters counts for nothing.
func nearest(misspelt string, names []string) string {
	best, fewest := "", 3
	for _, name := range names {
		a, b := strings.ToLower(misspelt), strings.ToLower(name)
		allowed := 1
		if min(len(a), len(b)) > 4 {
			allowed = 2
		}
		if d := slips(a, b); d <= allowed && d < fewest {
			best, fewest = name, d
		}
	}
	return best
}

// slips counts the letters left out, put in, changed or swapped with their
// neighbour between two words: the optimal string alignment distance of Damerau
// (1964) and Levenshtein (1966), from memory. It costs len(a)*len(b).
func slips(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row := make([]int, len(t)+1)
		row[0] = i + 1
		for j := range t {
			change := last[j]
			if s[i] != t[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(t)]
}

// mostNames is how many names a message lists.
const mostNames = 12

// choices words what there is to choose from, and the nearest to what was asked.
func choices(asked string, names []string) string {
	names = slices.Sorted(slices.Values(names))
	did := ""
	if meant := nearest(asked, names); meant != "" {
		did = "did you mean " + meant + "? "
	}
	more := ""
	if len(names) > mostNames {
		names, more = names[:mostNames], ", ..."
	}
	return did + "there is: " + cmp.Or(strings.Join(names, ", "), "none") + more
}

// nearestOrFirst is the name that was most likely meant, or any.
func nearestOrFirst(asked string, names []string) string {
	if meant := nearest(asked, names); meant != "" || len(names) == 0 {
		return meant
	}
	return names[0]
}
