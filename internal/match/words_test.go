package match

import (
	"slices"
	"testing"
)

func TestWordsThatCanMeanSomethingUrgentAreFound(t *testing.T) {
	for words, want := range map[string][]string{
		"A black patch, like a CURTAIN.": {"black", "curtain"},
		"it came suddenly":               {"suddenly"},
		"no flashes, no pain":            {"flashes", "pain"},
		"black black Black":              {"black"},
		"Plötzlich ein Vorhang":          {"plötzlich", "vorhang"},
		"plo\u0308tzlich schwarz":        {"plötzlich", "schwarz"},
		"ploetzlich":                     {"ploetzlich"},
		"blackish-grey":                  {"blackish"},
		"the print is faded and grey":    nil,
		"unblacked":                      nil,
		"":                               nil,
		"\xff\xfeblack":                  {"black"},
	} {
		if got := Urgent(words); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", words, got, want)
		}
	}
}

func TestEveryLanguageKnowsTheThreeWordsOfTheUrgentBox(t *testing.T) {
	three := map[string][]string{"en": {"black", "curtain", "sudden"}, "de": {"schwarz", "Vorhang", "plötzlich"}}
	for _, l := range Languages() {
		for _, w := range three[l] {
			if len(Urgent(w)) != 1 {
				t.Errorf("%s: %q is not urgent", l, w)
			}
		}
		if len(three[l]) == 0 {
			t.Errorf("%s: add the words for black, curtain and sudden to this test", l)
		}
	}
}
