package quantity

import "strings"

// Mistake is what is wrong with one piece of text, and what would be right in its
// place. The Parse functions of this package return it as their error.
type Mistake struct {
	What  string // one clause, lower case: `"4,7 m" has a decimal comma`
	Right string // what to do instead: `write 4.7 m`; may be empty
}

// Error joins both halves with a semicolon.
func (m *Mistake) Error() string {
	if m.Right == "" {
		return m.What
	}
	return m.What + "; " + m.Right
}

// Nearest returns the candidate that is closest to word in spelling, or "" if
// none is close enough to be meant. Upper and lower case are the same.
func Nearest(word string, candidates []string) string {
	best, bestDistance := "", len(word)/3+2
	for _, c := range candidates {
		if d := editDistance(strings.ToLower(word), strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	return best
}

// DidYouMean returns what to put in place of an unknown word: the nearest known
// one, or the list of all.
func DidYouMean(word string, candidates []string) string {
	if s := Suggestion(word, candidates); s != "" || len(candidates) == 0 {
		return s
	}
	return "known are " + strings.Join(candidates, ", ")
}

// Suggestion is DidYouMean without the list of all.
func Suggestion(word string, candidates []string) string {
	if n := Nearest(word, candidates); n != "" {
		return "did you mean \"" + n + "\"?"
	}
	return ""
}

// editDistance is the least number of letters to insert, delete, replace, or swap
// with their neighbour that turns a into b (Damerau 1964, restricted form). Long
// words are cut to 64 bytes.
func editDistance(a, b string) int {
	a, b = a[:min(len(a), 64)], b[:min(len(b), 64)]
	var older, old, row [65]int
	for j := range len(b) + 1 {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(row[j-1]+1, old[j]+1, old[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old = old, row
	}
	return old[len(b)]
}
