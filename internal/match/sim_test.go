package match

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

var calibrate = flag.Bool("calibrate", false, "print the chances of being best that equal views reach, for decideAt")

// patient answers as a person would whose liking of the views is known.
type patient struct {
	lambda []float64 // logits
	bias   float64   // logits for the left
	lapse  float64   // share of answers given without looking
	r      *rand.Rand
}

func (p patient) answer(q Question) Answer {
	if p.r.Float64() < p.lapse {
		return []Answer{Left, Right}[p.r.IntN(2)]
	}
	x := p.bias + p.likes(q.Left) - p.likes(q.Right)
	if p.r.Float64() < 1/(1+math.Exp(-x)) {
		return Left
	}
	return Right
}

// likes of the foil is so low that a view is chosen in 99 % or more, but for lapses.
func (p patient) likes(view int) float64 {
	if view == Foil {
		return -5
	}
	return p.lambda[view]
}

// sit lets a patient answer a session and returns the trials.
func sit(t *testing.T, s Setup, p patient) []Trial {
	t.Helper()
	var trials []Trial
	for range s.Answers {
		q, err := ask(s, trials)
		if err != nil {
			t.Fatal(err)
		}
		trials = append(trials, Trial{Question: q, Answer: p.answer(q)})
	}
	return trials
}

func TestCalibrate(t *testing.T) {
	if !*calibrate {
		t.Skip("go test ./internal/match -run Calibrate -calibrate -v prints the table behind decideAt")
	}
	const sessions = 4000
	for n := 2; n <= MaxViews; n++ {
		for _, answers := range []int{20, 30, 40} {
			top := make([]float64, sessions)
			for k := range top {
				s := Setup{Views: make([]string, n), Foil: "foil", Answers: answers, Seed: uint64(k)}
				p := patient{make([]float64, n), 0.3, 0.04, rand.New(rand.NewPCG(uint64(k), 99))}
				post, err := Infer(n, contests(n, sit(t, s, p)))
				if err != nil {
					t.Fatal(err)
				}
				top[k] = slices.Max(post.Best())
			}
			slices.Sort(top)
			t.Logf("%d views, %d answers: 5 %% above %.3f, 7 %% %.3f, 10 %% %.3f", n, answers, top[sessions*95/100], top[sessions*93/100], top[sessions*90/100])
		}
	}
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

// tally counts what came of sessions in which view 1 is the best, or none is.
type tally struct{ named, right, wrongTop, wrongNamed float64 }

// sessions lets patients with a lapse of 4 % and 0.3 logit for the left answer 500
// sessions of 40 questions, catch trials among them.
func sessions(t *testing.T, lambda []float64) tally {
	t.Helper()
	const count = 500
	names := []string{"a", "b", "c", "d", "e", "f"}
	var c tally
	for k := range count {
		s := Setup{Views: names[:len(lambda)], Foil: "foil", Answers: MaxAnswers, Seed: uint64(k)}
		p := patient{lambda, 0.3, 0.04, rand.New(rand.NewPCG(uint64(k), 7))}
		r, err := Evaluate(State{Setup: s, Trials: sit(t, s, p)})
		if err != nil {
			t.Fatal(err)
		}
		named, top := r.Outcome == Decided, r.Standings[0].View == "b"
		c.named += float64(one(named)) / count
		c.right += float64(one(named && top)) / count
		c.wrongTop += float64(one(!top)) / count
		c.wrongNamed += float64(one(named && !top)) / count
	}
	return c
}

func TestTheBestOfFourIsNamedInNineteenSessionsOfTwenty(t *testing.T) {
	c := sessions(t, []float64{0, logit(0.85), 0, 0})
	t.Logf("best of 4 at 85:15: named %.3f, first in the ranking %.3f", c.right, 1-c.wrongTop)
	if c.right < 0.95 {
		t.Errorf("best of 4 at 85:15 named in %.3f of sessions, want 0.95 or more", c.right)
	}
}

func TestAWrongFirstOfSixIsCalledNotDecided(t *testing.T) {
	c := sessions(t, []float64{0, logit(0.75), 0, 0, 0, 0})
	t.Logf("6 at 75:25: named rightly %.3f; wrong in the ranking %.3f, and named %.3f", c.right, c.wrongTop, c.wrongNamed)
	if c.wrongTop == 0 || c.wrongNamed > 0.10*c.wrongTop {
		t.Errorf("of wrong cases %.3f are named, want 0.10 or less of %.3f", c.wrongNamed, c.wrongTop)
	}
}

func TestEqualViewsGetAWinnerInOneSessionOfTenAtMost(t *testing.T) {
	for _, n := range []int{2, 3, 4, 6} {
		c := sessions(t, make([]float64, n))
		t.Logf("%d equal views: one is named in %.3f", n, c.named)
		if c.named > 0.10 {
			t.Errorf("%d equal views: one is named in %.3f of sessions, want 0.10 or less", n, c.named)
		}
	}
}
