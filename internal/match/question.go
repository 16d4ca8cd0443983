package match

import (
	"math/rand/v2"
)

// Kind says why a pair is asked. The patient never sees it.
type Kind string

// The kinds of questions.
const (
	Ordinary  Kind = "ordinary"
	Identical Kind = "identical" // one view twice: choosing a side is a guess
	Repeated  Kind = "repeated"  // an earlier pair with sides swapped
	Obvious   Kind = "obvious"   // a view against the foil
)

// Foil stands for the foil where a view's index is expected.
const Foil = -1

// Question is a pair to be shown. Number counts answers from 1. Left and Right
// are indices into Setup.Views, or [Foil]. Repeats is the number of the question
// that is asked again, 0 for none.
type Question struct {
	Number  int  `json:"number"`
	Kind    Kind `json:"kind"`
	Left    int  `json:"left"`
	Right   int  `json:"right"`
	Repeats int  `json:"repeats,omitempty"`
}

// streams of chance, so that one decision does not move another.
const (
	labelStream   = 1
	planStream    = 2
	severityRange = 1 << 16 // severity run k draws from this stream plus k
	askRange      = 1 << 20 // question n draws from this stream plus n
)

func (s Setup) chance(stream uint64) *rand.Rand { return rand.New(rand.NewPCG(s.Seed, stream)) }

// A session of 40 holds six catch trials, two of each kind: 15 %; common practice
// is 10 to 15 % or more. Shorter sessions hold fewer, but each kind once.
const (
	firstCatch       = 4 // the first three pairs are ordinary, so that a repeat has something to repeat
	catchEvery       = 6.2
	repeatAtLeastAgo = 3
	opening          = 4 // so many answers before any view counts as leading
)

// catches returns the kind of question for each number of a session at which it
// is not ordinary: one at a random place in each block of about six.
func (s Setup) catches() map[int]Kind {
	r := s.chance(planStream)
	blocks := max(3, int(float64(s.Answers-firstCatch+1)/catchEvery+0.5))
	kinds := s.catchKinds(blocks)
	r.Shuffle(blocks, func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
	out := map[int]Kind{}
	width := float64(s.Answers-firstCatch+1) / float64(blocks)
	for b, k := range kinds {
		from, to := firstCatch+int(float64(b)*width), firstCatch+int(float64(b+1)*width)
		out[from+r.IntN(to-from)] = k
	}
	return out
}

// catchKinds returns which catch trials a session of some blocks holds.
func (s Setup) catchKinds(blocks int) []Kind {
	each := max(1, blocks/3)
	var kinds []Kind
	for range each {
		kinds = append(kinds, Identical)
	}
	for range each {
		if s.Foil != "" {
			kinds = append(kinds, Obvious)
		}
	}
	for len(kinds) < blocks {
		kinds = append(kinds, Repeated)
	}
	return kinds
}

// ask returns the next question after some trials. It depends on the setup and
// the trials alone.
func ask(s Setup, trials []Trial) (Question, error) {
	number := len(trials) + 1
	r := s.chance(askRange + uint64(number))
	q := Question{Number: number, Kind: s.catches()[number]}
	switch q.Kind {
	case Identical:
		q.Left = r.IntN(len(s.Views))
		q.Right = q.Left
		return q, nil
	case Obvious:
		q.Left, q.Right = either(r, r.IntN(len(s.Views)), Foil)
		return q, nil
	case Repeated:
		if t, ok := repeatable(trials, r); ok {
			q.Left, q.Right, q.Repeats = t.Right, t.Left, t.Number
			return q, nil
		}
	}
	q.Kind = Ordinary
	i, j, err := s.pair(trials, r)
	if err != nil {
		return Question{}, err
	}
	q.Left, q.Right = sides(trials, i, j, r)
	return q, nil
}

// either returns two numbers in a random order.
func either(r *rand.Rand, i, j int) (int, int) {
	if r.IntN(2) == 0 {
		return i, j
	}
	return j, i
}

// repeatable returns an ordinary trial, not too fresh and not repeated yet, that
// was answered about the two pictures.
func repeatable(trials []Trial, r *rand.Rand) (Trial, bool) {
	done := map[int]bool{}
	for _, t := range trials {
		done[t.Repeats] = true
	}
	var free []Trial
	for _, t := range trials[:max(0, len(trials)-repeatAtLeastAgo+1)] {
		if t.Kind == Ordinary && !done[t.Number] && t.Answer.compares() {
			free = append(free, t)
		}
	}
	if len(free) == 0 {
		return Trial{}, false
	}
	return free[r.IntN(len(free))], true
}

// pair chooses two views that are worth asking about: the one that leads, and the
// best, among those that may be compared with it, of a truth drawn from what the
// answers leave open (a form of top-two sampling, Russo 2016). So pairs that could
// change which view is first are asked most, and none is out of question. At the
// beginning the leader is drawn too. No pair is asked twice running.
func (s Setup) pair(trials []Trial, r *rand.Rand) (int, int, error) {
	p, err := Infer(len(s.Views), contests(len(s.Views), trials))
	if err != nil {
		return 0, 0, err
	}
	var last Trial
	if len(trials) > 0 {
		last = trials[len(trials)-1]
	}
	leader := highest(p.fit.Lambda)
	if len(trials) < opening {
		leader = highest(p.draw(r))
	}
	for {
		if j := s.challenger(leader, last, p.draw(r)); j >= 0 {
			return leader, j, nil
		}
		leader = r.IntN(len(s.Views)) // it has but one partner, just shown
	}
}

// challenger returns the best of the views that may be asked beside the leader,
// -1 for none.
func (s Setup) challenger(leader int, last Trial, lambda []float64) int {
	best := -1
	for k := range lambda {
		fresh := len(s.Views) == 2 || !last.shows(leader, k)
		if k != leader && s.asks(leader, k) && fresh && (best < 0 || lambda[k] > lambda[best]) {
			best = k
		}
	}
	return best
}

// sides puts a pair so that each view of it stands left as often as right;
// at random where that is so already.
func sides(trials []Trial, i, j int, r *rand.Rand) (left, right int) {
	lead := 0
	for _, t := range trials {
		switch {
		case t.Left == i && t.Right == j:
			lead++
		case t.Left == j && t.Right == i:
			lead--
		}
	}
	switch {
	case lead > 0:
		return j, i
	case lead < 0:
		return i, j
	}
	return either(r, i, j)
}

// contests gathers what the answers say of the views. A choice is a win, no
// difference half a win for each; neither, nothing wrong and something else say
// nothing about which of the two is nearer and are left out. Identical pairs tell
// of the side alone; pairs with the foil are left out.
func contests(n int, trials []Trial) []Contest {
	table := make([]Contest, n*n)
	for _, t := range trials {
		if t.Kind == Obvious || !t.Answer.compares() {
			continue
		}
		c := &table[t.Left*n+t.Right]
		c.First, c.Second = t.Left, t.Right
		switch t.Answer {
		case Left:
			c.FirstWins++
		case Right:
			c.SecondWins++
		default:
			c.FirstWins += 0.5
			c.SecondWins += 0.5
		}
	}
	var out []Contest
	for _, c := range table {
		if c.FirstWins+c.SecondWins > 0 {
			out = append(out, c)
		}
	}
	return out
}
