package explain

import (
	"fmt"
	"math"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Fit is one measurement beside what the model predicts of it.
type Fit struct {
	What      string  `json:"what"`
	Measured  float64 `json:"measured"`
	Predicted float64 `json:"predicted"`
	Unit      string  `json:"unit"`
	Agrees    bool    `json:"agrees"`
	Words     string  `json:"words"`
}

// Limits within which measured and predicted agree: of an acuity, 95 in 100 of
// noise and model error together, √(0.05² + 0.10²) × 1.96; of a refraction, the
// distance within which 95 in 100 refractions repeat (Thibos2004).
const (
	acuityLimit     = 0.22
	refractionLimit = 0.5
)

// fits compares every acuity and the refraction with what is predicted.
func (t *teller) fits() error {
	t.tell("measured against predicted")
	for _, a := range t.e.Data.Acuity {
		fs, err := t.acuityFits(a)
		if err != nil {
			return err
		}
		t.story.Fits = append(t.story.Fits, fs...)
	}
	t.story.Fits = append(t.story.Fits, conflicts(t.e.Data.Acuity)...)
	f, ok, err := t.refractionFit()
	if ok {
		t.story.Fits = append(t.story.Fits, f)
	}
	return err
}

// acuityFits are the predictions for one measured acuity; of a contact lens whose
// kind the case does not say there are two.
func (t *teller) acuityFits(a casefile.Acuity) ([]Fit, error) {
	g := t.engines[0]
	trials := map[string][]string{"pinhole": {"pinhole"}, "contact-lens": {"soft-lens", "rigid-lens"}}[a.With]
	words := map[string]string{"glasses": "acuity with glasses", "none": "acuity without glasses", "pinhole": "acuity through a pinhole", "soft-lens": "acuity with a contact lens, if soft", "rigid-lens": "acuity with a contact lens, if rigid"}
	switch a.With {
	case "glasses":
		return []Fit{acuityFit(words[a.With], a, t.story.Lights[0].Now.LogMAR)}, nil
	case "none":
		n, err := t.unaided()
		return []Fit{acuityFit(words[a.With], a, n)}, err
	}
	var out []Fit
	for _, id := range trials {
		k, err := cause.FindTrial(id)
		if err != nil {
			return nil, err
		}
		l, err := g.trial(k, id)
		if err != nil {
			continue // a trial that this eye does not allow says so in its table
		}
		out = append(out, acuityFit(words[id], a, l.Numbers.LogMAR))
	}
	return out, nil
}

func acuityFit(what string, a casefile.Acuity, predicted float64) Fit {
	f := Fit{What: what, Measured: a.LogMAR.V, Predicted: predicted, Unit: "logMAR"}
	gap := f.Measured - f.Predicted
	f.Agrees = math.Abs(gap) <= acuityLimit
	f.Words = fmt.Sprintf("%s: the model expects %.2f, measured %.2f", what, predicted, a.LogMAR.V)
	switch {
	case f.Agrees:
		f.Words += ": they agree within noise and model error"
	case gap > 0:
		f.Words += ": worse than expected; something not in this case, or the field loss nearer to fixation than measured"
	default:
		f.Words += ": better than expected; a measurement in this case is too bad, or this person reads with blur better than most"
	}
	return f
}

// unaided is the acuity predicted without glasses.
func (t *teller) unaided() (float64, error) {
	d := *t.e.Data
	d.WornFar = &casefile.Glasses{None: true}
	e, err := again(t.e, &d)
	if err != nil {
		return 0, err
	}
	s, err := e.State(e.All(), t.engines[0].v, cause.Same)
	if err != nil {
		return 0, err
	}
	g := t.engines[0]
	o, err := g.point(s, "without glasses")
	if err != nil {
		return 0, err
	}
	n, err := g.measure(s, o, 1, nil)
	return n.LogMAR, err
}

// conflicts are measurements that speak against each other before any model.
func conflicts(list []casefile.Acuity) (out []Fit) {
	limit := func(a, b casefile.Acuity) float64 {
		sd := func(x casefile.Acuity) float64 {
			if x.LogMAR.SD > 0 {
				return x.LogMAR.SD
			}
			return acuitySD
		}
		return enough * math.Hypot(sd(a), sd(b))
	}
	for i, a := range list {
		for _, b := range list[i+1:] {
			x, y := a.LogMAR.V, b.LogMAR.V
			switch {
			case a.With == b.With && math.Abs(x-y) > limit(a, b):
				out = append(out, Fit{What: "acuity twice", Measured: x, Predicted: y, Unit: "logMAR", Words: fmt.Sprintf("acuity with %s was measured as %.2f and as %.2f: further apart than noise makes likely; the later one is used", a.With, x, y)})
			case a.With == "glasses" && b.With == "pinhole" && y-x > limit(a, b):
				out = append(out, Fit{What: "pinhole worse", Measured: y, Predicted: x, Unit: "logMAR", Words: fmt.Sprintf("acuity through a pinhole (%.2f) is worse than with glasses (%.2f): a pinhole takes blur away, so something dims or covers the centre, or the hole was not before the pupil", y, x)})
			}
		}
	}
	return out
}

// refractionFit compares the refraction in the case with the one that the model
// finds best through the bright pupil, at the cornea,
//
//	R = worn + (left now - left with exact glasses)
func (t *teller) refractionFit() (Fit, bool, error) {
	d := t.e.Data
	if d.Refraction == nil {
		return Fit{}, false, nil
	}
	g := t.engines[0]
	k, err := cause.FindTrial("spectacles-exact")
	if err != nil {
		return Fit{}, false, err
	}
	now, err := cause.NumbersNow(t.e, t.e.All(), g.v)
	if err != nil {
		return Fit{}, false, err
	}
	best, err := k.Numbers(t.e, t.e.All(), g.v)
	if err != nil {
		return Fit{}, false, err
	}
	worn, err := wornAtCornea(d.WornFar)
	if err != nil {
		return Fit{}, false, err
	}
	need, err := needs(d)
	if err != nil {
		return Fit{}, false, err
	}
	if d.WornFar == nil {
		worn = need
	}
	model := worn.Add(power(now.M-best.M, now.J0-best.J0, now.J45-best.J45))
	off := float64(model.Sub(need).Length())
	f := Fit{What: "refraction", Measured: float64(need.M), Predicted: float64(model.M), Unit: "D, mean sphere", Agrees: off <= refractionLimit}
	f.Words = fmt.Sprintf("refraction: the model finds %s best at the cornea, measured %s: %.2f D apart", model, need, off)
	if f.Agrees {
		f.Words += ", as repeats of a refraction are"
	} else {
		f.Words += ", more than repeats of a refraction; one of the causes is measured wrongly, or another is missing"
	}
	return f, true, nil
}

func power(m, j0, j45 float64) refraction.PowerVector {
	return refraction.PowerVector{M: unit.Dioptres(m), J0: unit.Dioptres(j0), J45: unit.Dioptres(j45)}
}
