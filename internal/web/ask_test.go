package web

import (
	"net/http"
	"strings"
	"testing"
)

const view = "/api/picture?scene=letters&eye=right"

// Every mistake in a question is named in one sentence, with the key and what was
// expected; nothing is clamped.
func TestAMistakeInAQuestionIsNamed(t *testing.T) {
	for _, c := range []struct{ path, says string }{
		{"/api/picture?eye=right", "scene: there is no scene"},
		{"/api/picture?scene=letters", "eye: must be right, left or both"},
		{view + "&gaze=1", "gaze: must be two numbers"},
		{view + "&gaze=NaN,0", "gaze: must be two numbers"},
		{view + "&gaze=61,0", "from -60 to 60"},
		{view + "&pupil=12", "pupil: must be case"},
		{view + "&pupil=Inf", "pupil: must be case"},
		{view + "&distance=-1", "distance: must be scene"},
		{view + "&set=lens", "set: must be causes"},
		{view + "&set=lens:4", "0 to 3"},
		{view + "&set=lens:NaN", "0 to 3"},
		{view + "&set=lens:1,lens:2", "each once"},
		{view + "&set=moon:1", `cause \"moon\"`},
		{view + "&set=moon:0", `cause \"moon\"`},
		{view + "&trial=wishes", "wishes"},
		{view + "&glasses=pink", "own or refitted"},
		{view + "&part=hole", "whole or window"},
		{view + "&size=huge", "preview or full"},
		{view + "&slot=" + strings.Repeat("x", 81), "slot"},
		{view + "&eye=left", "there twice"},
		{view + "&name=Smith", "is no key of a view"},
	} {
		code, body, _ := fetched(t, c.path)
		if code != http.StatusBadRequest || !strings.Contains(body, c.says) {
			t.Errorf("%s: %d %s, want a refusal that says %q", c.path, code, body, c.says)
		}
	}
}

func TestAWhatIfIsKeptFromThePatientsSide(t *testing.T) {
	path := "/api/numbers?scene=letters&eye=right&set=lens:1&trial=lens-straight-refracted"
	for _, side := range []string{"", "&side=patient"} {
		if code, body, _ := fetched(t, path+side); code != http.StatusBadRequest || !strings.Contains(body, "what-if") {
			t.Errorf("side %q: %d %s", side, code, body)
		}
	}
}
