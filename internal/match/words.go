package match

import (
	"maps"
	"slices"
	"strings"
	"unicode"
)

// urgentStems are the beginnings of words that make a page show the urgent box,
// by language: what may be said of a detached retina, a blocked vessel or an acute
// rise of pressure (common practice). A word is found wherever it stands, also
// after "no": asking once too often is the smaller harm.
var urgentStems = map[string][]string{
	"en": {"black", "curtain", "sudden", "shadow", "flash", "floater", "soot", "cobweb", "pain", "headache", "vomit", "blind"},
	"de": {"schwarz", "vorhang", "vorhäng", "plötzlich", "ploetzlich", "schatten", "blitz", "rußregen", "russregen", "mücken", "schmerz", "kopfschmerz", "weh", "erbrech", "blind"},
}

// Languages lists the languages whose urgent words are known.
func Languages() []string { return slices.Sorted(maps.Keys(urgentStems)) }

// Urgent returns the words, in small letters and in their order, that call for the
// urgent box. The lists of all languages are read, whatever language the page is in;
// no word found does not mean that nothing is urgent.
func Urgent(words string) []string {
	var found []string
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) }) {
		w = composed(w)
		if isUrgent(w) && !slices.Contains(found, w) {
			found = append(found, w)
		}
	}
	return found
}

func isUrgent(word string) bool {
	for _, stems := range urgentStems {
		for _, s := range stems {
			if strings.HasPrefix(word, s) {
				return true
			}
		}
	}
	return false
}

// composed joins a vowel and a diaeresis that were typed as two characters.
func composed(w string) string {
	return strings.NewReplacer("a\u0308", "ä", "o\u0308", "ö", "u\u0308", "ü").Replace(w)
}
