package match

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Outcome says in two words what came of a session.
type Outcome string

// The outcomes.
const (
	Decided       Outcome = "decided"
	NotDecided    Outcome = "not decided"
	NoneFits      Outcome = "none fits"
	SeesNoFault   Outcome = "nothing wrong"
	NotDependable Outcome = "not dependable"
)

// decideAt is the chance of being best, by number of views, from which the first
// view is named. Of simulated sessions with equal views (4000 each of 20, 30 and 40
// answers, lapse 4 %, 0.3 logit for the left), 5 to 10 % reach it, whatever their
// length: go test ./internal/match -run Calibrate -calibrate -v. Below two thirds
// nothing is named, however many views there are.
var decideAt = [MaxViews + 1]float64{2: 0.96, 3: 0.85, 4: 0.76, 5: 0.70, 6: 0.65, 7: 0.65, 8: 0.65}

const (
	// minCompared is how many answers have to compare two views; the shortest
	// sessions that decideAt was found with hold about that many.
	minCompared = 16
	// mostly is the share of answers from which neither, or nothing wrong, is the
	// outcome; our choice.
	mostly = 0.5
)

// Standing is what the answers say of one view.
type Standing struct {
	View  string `json:"view"`
	Label string `json:"label"`
	Rank  int    `json:"rank"` // from 1
	// Liked is how much more it is like what is seen than the mean of all views,
	// in logits with its 90 % interval.
	Liked Estimate `json:"liked"`
	// Best is the probability that it is the most alike of all.
	Best float64 `json:"best"`
	// Shown counts ordinary and repeated questions with this view; Chosen, Tied
	// and Neither what was said to them.
	Shown   int `json:"shown"`
	Chosen  int `json:"chosen"`
	Tied    int `json:"tied"`
	Neither int `json:"neither"`
}

// Said is something in the patient's own words.
type Said struct {
	Number int      `json:"number"`
	Answer Answer   `json:"answer"`
	Words  string   `json:"words"`
	Urgent []string `json:"urgent,omitempty"`
}

// Side is what speaks for a habit of choosing one side.
type Side struct {
	// Left and Right count the choices in all questions but obvious ones.
	Left  int `json:"left"`
	Right int `json:"right"`
	// Bias is the advantage of the left in logits, with its 90 % interval.
	Bias Estimate `json:"bias"`
	// Chance is the probability of a split at least as uneven if both sides were
	// chosen alike (binomial, two-sided).
	Chance float64 `json:"chance"`
}

// Catches counts the trials that test the answers.
type Catches struct {
	Identical     int `json:"identical"`      // one view twice
	SaidAlike     int `json:"said_alike"`     // of these: no difference
	Obvious       int `json:"obvious"`        // against the foil
	FoilChosen    int `json:"foil_chosen"`    // of these: the foil, or no difference
	Repeated      int `json:"repeated"`       // an earlier pair, sides swapped
	SaidTheSame   int `json:"said_the_same"`  // of these: the same answer as before
	NothingWrong  int `json:"nothing_wrong"`  // of all answers
	SomethingElse int `json:"something_else"` // of all answers
}

// Result is what a session says, for both to talk about.
type Result struct {
	Outcome Outcome `json:"outcome"`
	// First is the view that is named, where the outcome is [Decided]; else empty.
	First string `json:"first,omitempty"`
	Why   string `json:"why"`
	// Standings are in the order of Rank.
	Standings []Standing `json:"standings"`
	Side      Side       `json:"side"`
	Catches   Catches    `json:"catches"`
	Said      []Said     `json:"said"`
	// Urgent holds every word that called for the urgent box, also in answers that
	// were taken back.
	Urgent   []string    `json:"urgent"`
	NotAsked [][2]string `json:"not_asked"`
	Severity []Severity  `json:"severity"`
	// Sentences have to stand beside every result.
	Sentences []string `json:"sentences"`
}

// Evaluate works out what a session says so far. Errors: a state that no session
// could be in.
func Evaluate(s State) (Result, error) {
	if err := s.check(); err != nil {
		return Result{}, err
	}
	p, err := Infer(len(s.Setup.Views), contests(len(s.Setup.Views), s.Trials))
	if err != nil {
		return Result{}, err
	}
	r := Result{Standings: standings(s, p), Side: side(s.Trials, p), Catches: catches(s.Trials), Severity: []Severity{}}
	r.said(s)
	for _, pair := range s.Setup.NotAsked() {
		r.NotAsked = append(r.NotAsked, [2]string{s.Setup.Views[pair[0]], s.Setup.Views[pair[1]]})
	}
	for _, a := range s.Severity {
		r.Severity = append(r.Severity, a.summary(s.Setup.Views[a.View]))
	}
	r.decide(s.Trials)
	r.Sentences = r.sentences()
	return r, nil
}

// standings ranks the views by how much they are liked; equals keep their order.
func standings(s State, p *Posterior) []Standing {
	labels, best := s.Setup.Labels(), p.Best()
	list := make([]Standing, len(s.Setup.Views))
	for i, v := range s.Setup.Views {
		list[i] = Standing{View: v, Label: labels[i], Liked: p.Lambda(i), Best: best[i]}
	}
	for _, t := range s.Trials {
		if t.Kind == Ordinary || t.Kind == Repeated {
			list[t.Left].count(t.Answer, Left)
			list[t.Right].count(t.Answer, Right)
		}
	}
	slices.SortStableFunc(list, func(a, b Standing) int { return cmp.Compare(b.Liked.Value, a.Liked.Value) })
	for i := range list {
		list[i].Rank = i + 1
	}
	return list
}

// count adds an answer to a view that stood on a side.
func (v *Standing) count(a, side Answer) {
	v.Shown++
	switch a {
	case side:
		v.Chosen++
	case NoDifference:
		v.Tied++
	case Neither:
		v.Neither++
	}
}

func side(trials []Trial, p *Posterior) Side {
	s := Side{Bias: p.Delta()}
	for _, t := range trials {
		switch {
		case t.Kind == Obvious:
		case t.Answer == Left:
			s.Left++
		case t.Answer == Right:
			s.Right++
		}
	}
	s.Chance = binomialTwoSided(s.Left, s.Left+s.Right)
	return s
}

// binomialTwoSided is the probability that n throws of a coin split at least as
// unevenly as k to n - k.
func binomialTwoSided(k, n int) float64 {
	k = min(k, n-k)
	if 2*k == n {
		return 1
	}
	var sum float64
	term := math.Pow(0.5, float64(n))
	for i := range k + 1 {
		sum += term
		term *= float64(n-i) / float64(i+1)
	}
	return min(1, 2*sum)
}

func catches(trials []Trial) Catches {
	var c Catches
	for _, t := range trials {
		switch t.Kind {
		case Identical:
			c.Identical++
			c.SaidAlike += one(t.Answer == NoDifference)
		case Obvious:
			c.Obvious++
			c.FoilChosen += one(t.Answer == NoDifference || t.Answer == Left && t.Left == Foil || t.Answer == Right && t.Right == Foil)
		case Repeated:
			c.Repeated++
			c.SaidTheSame += one(t.Answer == trials[t.Repeats-1].Answer.mirrored())
		}
		c.NothingWrong += one(t.Answer == NothingWrong)
		c.SomethingElse += one(t.Answer == SomethingElse)
	}
	return c
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// said gathers the patient's words.
func (r *Result) said(s State) {
	r.Said, r.Urgent, r.NotAsked = []Said{}, []string{}, [][2]string{}
	for _, t := range s.Trials {
		if t.Words != "" {
			r.Said = append(r.Said, Said{t.Number, t.Answer, t.Words, t.Urgent})
		}
	}
	for _, t := range slices.Concat(s.Trials, s.Undone) {
		for _, w := range t.Urgent {
			if !slices.Contains(r.Urgent, w) {
				r.Urgent = append(r.Urgent, w)
			}
		}
	}
}

// decide finds the outcome and the reason.
func (r *Result) decide(trials []Trial) {
	var about, compared, neither, nothing int
	for _, t := range trials {
		if t.Kind == Ordinary || t.Kind == Repeated {
			about++
			compared += one(t.Answer.compares())
			neither += one(t.Answer == Neither)
			nothing += one(t.Answer == NothingWrong)
		}
	}
	first := r.Standings[0]
	limit := decideAt[len(r.Standings)]
	switch share := func(k int) bool { return about > 0 && float64(k) >= mostly*float64(about) }; {
	case r.Catches.Obvious >= 2 && 2*r.Catches.FoilChosen > r.Catches.Obvious:
		r.Outcome, r.Why = NotDependable, fmt.Sprintf("in %d of %d pairs with an obvious answer it was not given", r.Catches.FoilChosen, r.Catches.Obvious)
	case share(nothing):
		r.Outcome, r.Why = SeesNoFault, fmt.Sprintf("to %d of %d pairs the answer was that nothing is wrong", nothing, about)
	case share(neither):
		r.Outcome, r.Why = NoneFits, fmt.Sprintf("to %d of %d pairs the answer was neither", neither, about)
	case compared < minCompared:
		r.Outcome, r.Why = NotDecided, fmt.Sprintf("%d answers compare two views, and %d or more are needed", compared, minCompared)
	case first.Best < limit:
		r.Outcome, r.Why = NotDecided, fmt.Sprintf("the chance that %s is most like what is seen is %.2f, and with %d views it has to be %.2f", first.View, first.Best, len(r.Standings), limit)
	default:
		r.Outcome, r.First = Decided, first.View
		r.Why = fmt.Sprintf("the chance that %s is most like what is seen is %.2f; with %d views it has to be %.2f, which equal views reach in at most one session of ten", first.View, first.Best, len(r.Standings), limit)
	}
}
