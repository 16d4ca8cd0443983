package web

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/match"
	"simview/internal/scene"
	"simview/internal/unit"
)

// setUp is what is recorded before a match: the eye with the complaint looked at
// something real, and the other one, which will look at the screen, is ready.
type setUp struct {
	Eye       string   `json:"complaint_eye"`
	Through   string   `json:"through"`           // what that eye looks through
	Object    string   `json:"object"`            // the real thing it looked at
	Saw       string   `json:"saw"`               // in the person's own words
	Covered   bool     `json:"complaint_covered"` // now, before the pictures
	Corrected bool     `json:"fellow_corrected"`  // for the distance of the screen
	ScreenM   float64  `json:"screen_m"`
	PictureCM float64  `json:"picture_cm"` // width of one picture on the screen
	Scene     string   `json:"scene"`
	Part      string   `json:"part"`
	Views     []string `json:"views"`
	Answers   int      `json:"answers"`
	Seed      uint64   `json:"seed,omitempty"` // 0: by chance
}

// plan is a set-up with what was worked out from it, as it is kept.
type plan struct {
	Version int    `json:"version"`
	Case    string `json:"case"` // sum of the case, so that another is told from it
	setUp
	Fellow  string `json:"fellow"` // the eye that looks; "" stands for a usual eye of that age
	HasFoil bool   `json:"has_foil"`
	// Prediction says in English how it was predicted what the fellow eye tells apart.
	Prediction string `json:"prediction"`
}

const (
	planVersion = 1
	// viewNothing and viewAll are views beside those of one cause, named by its id.
	viewNothing = "nothing"
	viewAll     = "all"
	maxObject   = 200
	leastScreen = 0.2 // metres
	mostScreen  = 6
	leastCM     = 2
	mostCM      = 100
	leastDeg    = 1
	mostDeg     = 90
	maxMatched  = cause.MaxStrength
	matchedUnit = "times what was measured"
	foilName    = "upside down"
)

var throughs = []string{"glasses", "nothing", "contact-lens", "other"}

// check refuses a set-up that is none or not finished. The case is not asked.
func (u setUp) check() error {
	switch {
	case !slices.Contains([]string{"right", "left"}, u.Eye):
		return askf("complaint_eye: must be right or left (got %.20q)", u.Eye)
	case !slices.Contains(throughs, u.Through):
		return askf("through: must be one of %s (got %.20q)", strings.Join(throughs, ", "), u.Through)
	case strings.TrimSpace(u.Object) == "" || len([]rune(u.Object)) > maxObject:
		return askf("object: say in 1 to %d characters what real thing the eye with the complaint looked at", maxObject)
	case len([]rune(u.Saw)) > match.MaxWords:
		return askf("saw: must have %d characters at most", match.MaxWords)
	case !u.Covered:
		return askf("complaint_covered: cover the eye with the complaint first; the pictures are looked at with the other one")
	case !u.Corrected:
		return askf("fellow_corrected: give the other eye its correction for the screen first")
	case !(u.ScreenM >= leastScreen && u.ScreenM <= mostScreen):
		return askf("screen_m: must be %g to %d metres (got %g)", leastScreen, mostScreen, u.ScreenM)
	case !(u.PictureCM >= leastCM && u.PictureCM <= mostCM):
		return askf("picture_cm: must be %d to %d centimetres (got %g)", leastCM, mostCM, u.PictureCM)
	case !(u.wideDeg() >= leastDeg && u.wideDeg() <= mostDeg):
		return askf("picture_cm: a picture of %g cm at %g m is %.2g degrees wide; expected %d to %d degrees", u.PictureCM, u.ScreenM, u.wideDeg(), leastDeg, mostDeg)
	case u.Part != "whole" && u.Part != "window":
		return askf("part: must be whole or window (got %.20q)", u.Part)
	case len(u.Views) < 2 || len(u.Views) > match.MaxViews:
		return askf("views: choose 2 to %d (got %d)", match.MaxViews, len(u.Views))
	case u.Answers < match.MinAnswers || u.Answers > match.MaxAnswers:
		return askf("answers: must be %d to %d (got %d)", match.MinAnswers, match.MaxAnswers, u.Answers)
	case u.Seed > match.MaxSeed:
		return askf("seed: must be at most %d", uint64(match.MaxSeed))
	}
	for i, v := range u.Views {
		if slices.Contains(u.Views[:i], v) {
			return askf("views: %.40q is there twice", v)
		}
	}
	return nil
}

// wideDeg is the width of one picture on the screen, degrees.
func (u setUp) wideDeg() float64 { return 2 * math.Atan(u.PictureCM/100/2/u.ScreenM) * 180 / math.Pi }

// check refuses a kept plan that this program did not write.
func (p plan) check() error {
	if p.Version != planVersion {
		return fmt.Errorf("version %d, expected %d", p.Version, planVersion)
	}
	return p.setUp.check()
}

// fixation reports whether the pictures carry a mark to look at: all of them, if one
// shows a lost field, so that the mark tells nothing.
func (p plan) fixation() bool {
	return slices.Contains(p.Views, string(cause.Field)) || slices.Contains(p.Views, viewAll)
}

// offersOf lists the views of an eye that can be compared.
func offersOf(e *cause.Eye) (ids []string) {
	for _, c := range e.Causes {
		ids = append(ids, string(c.ID))
	}
	return append(ids, viewAll, viewNothing)
}

// fingerprint tells one case from another.
func (s *Server) fingerprint() string {
	s.matches.sum.Do(func() {
		c := *s.kase
		c.Dir, c.File = "", ""
		text, err := json.Marshal(c)
		if err != nil { // what the page knows of a case is always sent as JSON
			f, _ := s.facts()
			text, _ = json.Marshal(f)
		}
		sum := sha256.Sum256(text)
		s.matches.caseSum = hex.EncodeToString(sum[:8])
	})
	return s.matches.caseSum
}

// matchAsk makes the question for a view of a plan at a strength.
func (s *Server) matchAsk(p plan, view string, strength float64) (a ask, err error) {
	side, err := s.complaintEye(p)
	if err != nil {
		return a, err
	}
	a.eye, a.window = s.eyes[side], p.Part == "window"
	if a.scene, err = s.findScene(p.Scene); err != nil {
		return a, err
	}
	if a.window {
		if a.scene.Window.WidthDeg == 0 {
			return a, askf("part: the scene %s has no magnified part", a.scene.ID)
		}
		a.gaze = unit.SightPoint{X: unit.Degrees(a.scene.Window.XDeg), Y: unit.Degrees(a.scene.Window.YDeg)}
	}
	a.viewing = compare.Viewing(a.scene)
	a.set, a.glasses, err = strengths(a.eye, view, strength)
	return a, err
}

func (s *Server) findScene(id string) (*scene.Scene, error) {
	for _, c := range s.scenes {
		if c.ID == id {
			return c, nil
		}
	}
	return nil, askf("scene: there is no scene %.40q; hint: choose one from the list", id)
}

// strengths are those of a view, all of them scaled.
func strengths(e *cause.Eye, view string, k float64) (cause.Strengths, cause.Glasses, error) {
	set, glasses := cause.Strengths{}, cause.Refracted
	switch _, known := e.Cause(cause.ID(view)); {
	case view == viewNothing:
		return set, glasses, nil
	case view == viewAll:
		set, glasses = e.All(), cause.Same
	case known:
		set = cause.Only(cause.ID(view), 1)
	default:
		return nil, 0, askf("views: this eye has no view %.40q; hint: choose from %s", view, strings.Join(offersOf(e), ", "))
	}
	for id := range set {
		if set[id] *= k; set[id] == 0 {
			delete(set, id)
		}
	}
	return set, glasses, nil
}

// viewName is the name of a view in the record, in English.
func viewName(e *cause.Eye, view string) string {
	switch c, known := e.Cause(cause.ID(view)); {
	case known:
		return c.Label
	case view == viewAll:
		return "All together"
	}
	return "Nothing wrong"
}

// anySeed is a seed by chance.
func anySeed() uint64 {
	var b [8]byte
	rand.Read(b[:]) // never fails, see its documentation
	return binary.LittleEndian.Uint64(b[:])&match.MaxSeed | 1
}
