package web

import (
	"net/http"

	"simview/internal/cause"
	"simview/internal/scene"
	"simview/internal/unit"
)

// facts are what the page knows of the case and of the choices. Its own words it
// makes from ids and numbers; sentences in English stand in fields named so.
type facts struct {
	Title    string       `json:"title"`
	Words    string       `json:"complaint"`
	Invented bool         `json:"invented"`
	Eye      string       `json:"complaint_eye"`
	Eyes     []eyeFacts   `json:"eyes"`
	Scenes   []sceneFacts `json:"scenes"`
	Trials   []trialFacts `json:"trials"`
	Checks   []checkFacts `json:"checks"`
	Strength float64      `json:"max_strength"`
}

type eyeFacts struct {
	Side   string       `json:"side"`
	Causes []causeFacts `json:"causes"`
	Notes  []string     `json:"notes"`  // what was assumed, in English
	LogMAR *float64     `json:"logmar"` // measured through the glasses worn
	SD     float64      `json:"logmar_sd"`
}

type causeFacts struct {
	ID         string          `json:"id"`
	Label      string          `json:"label"`  // in English
	Amount     string          `json:"amount"` // in English
	From       string          `json:"from"`
	Shows      string          `json:"shows_in"` // scene
	Quantities []quantityFacts `json:"quantities"`
}

type quantityFacts struct {
	Key     string  `json:"key"`
	Unit    string  `json:"unit"`
	Zero    float64 `json:"zero"`
	One     float64 `json:"one"`
	SD      float64 `json:"sd"`
	Log     bool    `json:"log"`
	From    string  `json:"from"`
	PupilMM float64 `json:"pupil_mm,omitempty"`
}

type sceneFacts struct {
	ID        string  `json:"id"`
	Title     string  `json:"title"` // in English
	DistanceM float64 `json:"distance_m"`
	WidthDeg  float64 `json:"width_deg"`
	HeightDeg float64 `json:"height_deg"`
	Night     bool    `json:"night"`
	AdaptCdM2 float64 `json:"adapt_cdm2"`
	Window    *window `json:"window"`
}

type window struct {
	XDeg      float64 `json:"x_deg"`
	YDeg      float64 `json:"y_deg"`
	WidthDeg  float64 `json:"width_deg"`
	HeightDeg float64 `json:"height_deg"`
}

type trialFacts struct {
	ID     string `json:"id"`
	Label  string `json:"label"` // in English
	InRoom bool   `json:"in_room"`
}

type checkFacts struct {
	Key   string `json:"key"`
	Done  bool   `json:"done"`
	Words string `json:"words"` // as the case has them
}

func (s *Server) answerCase(w http.ResponseWriter, _ *http.Request) {
	f, err := s.facts()
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, f)
}

func (s *Server) facts() (facts, error) {
	c := s.kase
	f := facts{Title: c.Title, Words: c.Words, Invented: c.Invented, Eye: c.ComplaintSide().String(), Strength: cause.MaxStrength}
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		if e := s.eyes[side]; e != nil {
			facts, err := factsOf(e)
			if err != nil {
				return f, err
			}
			f.Eyes = append(f.Eyes, facts)
		}
	}
	for _, s := range s.scenes {
		f.Scenes = append(f.Scenes, factsOfScene(s))
	}
	for _, t := range cause.Trials {
		f.Trials = append(f.Trials, trialFacts{t.ID, t.Label, t.InRoom})
	}
	for _, k := range c.Checks.Named() {
		f.Checks = append(f.Checks, checkFacts{k.Key, k.Check.Done(), k.Check.Words})
	}
	return f, nil
}

func factsOf(e *cause.Eye) (eyeFacts, error) {
	f := eyeFacts{Side: e.Side.String(), Causes: []causeFacts{}, Notes: e.Notes}
	for _, a := range e.Data.Acuity {
		if a.With == "glasses" && f.LogMAR == nil && a.LogMAR.Given() {
			f.LogMAR, f.SD = &a.LogMAR.V, a.LogMAR.SD
		}
	}
	for _, c := range e.Causes {
		list, err := e.Quantities(c.ID)
		if err != nil {
			return f, err
		}
		k := causeFacts{ID: string(c.ID), Label: c.Label, Amount: c.Amount, From: c.From.String(), Shows: c.Shows.Scene}
		for _, q := range list {
			k.Quantities = append(k.Quantities, quantityFacts{q.Key, q.Unit, q.Zero, q.One, q.SD, q.Log, q.From.String(), q.PupilMM})
		}
		f.Causes = append(f.Causes, k)
	}
	return f, nil
}

func factsOfScene(s *scene.Scene) sceneFacts {
	f := sceneFacts{ID: s.ID, Title: s.Title, DistanceM: s.DistanceM, WidthDeg: s.WidthDeg, HeightDeg: s.HeightDeg, Night: s.Night, AdaptCdM2: s.AdaptCdM2}
	if w := s.Window; w.WidthDeg > 0 {
		f.Window = &window{float64(w.XDeg), float64(w.YDeg), w.WidthDeg, w.HeightDeg}
	}
	return f
}
