package cause_test

import (
	"math"
	"strings"
	"sync"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

var (
	far  = cause.Viewing{DistanceM: math.Inf(1)}
	page = cause.Viewing{DistanceM: 0.4}
)

// built resolves the eyes of the built-in case once for all tests: an eye keeps
// the refractions it has worked out.
var built = sync.OnceValues(func() (eyes [2]*cause.Eye, err error) {
	c, err := casefile.Demo()
	if err != nil {
		return eyes, err
	}
	for side := range eyes {
		if eyes[side], err = cause.Resolve(c, unit.Side(side)); err != nil {
			return eyes, err
		}
	}
	return eyes, nil
})

// demo returns an eye of the built-in case; it is shared, not to be changed.
func demo(t testing.TB, side unit.Side) *cause.Eye {
	t.Helper()
	eyes, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return eyes[side]
}

func resolve(t testing.TB, c *casefile.Case, side unit.Side) *cause.Eye {
	t.Helper()
	e, err := cause.Resolve(c, side)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

const head = `
title: A test
invented: true
complaint_eye: right
age_years: 60
eyes:
`

// parse reads a case whose eyes are the given lines, indented by two.
func parse(t testing.TB, eyes string) *casefile.Case {
	t.Helper()
	text := head + eyes
	if !strings.Contains(eyes, "right:") {
		text = strings.Replace(text, "complaint_eye: right", "complaint_eye: left", 1)
	}
	c, _, err := casefile.Parse("test.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// one resolves the right eye of a case with only that eye, given by lines.
func one(t testing.TB, lines ...string) *cause.Eye {
	t.Helper()
	return resolve(t, parse(t, "  right:\n    "+strings.Join(lines, "\n    ")+"\n"), unit.Right)
}

func state(t testing.TB, e *cause.Eye, set cause.Strengths, v cause.Viewing, g cause.Glasses) eye.State {
	t.Helper()
	s, err := e.State(set, v, g)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// fit returns the terms up to order 6 of the parts for which keep is true, over
// the state's pupil.
func fit(t testing.TB, s eye.State, keep func(eye.Part) bool) zernike.Terms {
	t.Helper()
	s = s.Without(func(p eye.Part) bool { return !keep(p) })
	const n, order = 61, 6
	var xs, ys, ws []float64
	r := s.PupilMM / 2
	for k := range n * n {
		x, y := (2*float64(k%n)/(n-1)-1)*r, (2*float64(k/n)/(n-1)-1)*r
		if x*x+y*y <= r*r {
			xs, ys, ws = append(xs, x), append(ys, y), append(ws, s.PathUM(x, y))
		}
	}
	w, _, err := zernike.Fit(xs, ys, ws, r, order)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func everything(eye.Part) bool { return true }

func by(id string) func(eye.Part) bool { return func(p eye.Part) bool { return p.By == id } }

// dioptres are the parts of a view that are one power vector: its focus and the
// leftover error.
func dioptres(p eye.Part) bool { return p.By == "focus" || p.By == string(cause.Cylinder) }

// focus returns the second-order part that the view's focus and leftover error
// add, exactly: they are power vectors.
func focus(t testing.TB, s eye.State) refraction.PowerVector {
	t.Helper()
	p, err := refraction.FromTermsRMS(fit(t, s, dioptres))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// near reports whether two power vectors agree to 0.001 D, the rounding of a
// fit over a few thousand points.
func alike(a, b refraction.PowerVector) bool { return a.Sub(b).Length() < 1e-3 }

func spread(t testing.TB, s eye.State) *psf.PSF {
	t.Helper()
	p, err := psf.Compute(s.Aperture(), psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// secondMomentArcmin returns the square root of the mean squared distance of
// the light within a circle about its centre, minutes of arc.
func secondMoment(p *psf.PSF, withinArcmin float64) float64 {
	var sum, share float64
	step := p.StepDeg * 60
	for k, v := range p.Pix {
		x, y := float64(k%p.N-p.N/2)*step, float64(k/p.N-p.N/2)*step
		if r2 := x*x + y*y; r2 <= withinArcmin*withinArcmin {
			sum += float64(v) * r2
			share += float64(v)
		}
	}
	return sum / share
}

func has(list []string, part string) bool {
	for _, s := range list {
		if strings.Contains(s, part) {
			return true
		}
	}
	return false
}

// difference is the RMS of a - b, µm.
func difference(a, b zernike.Terms) float64 {
	var sum float64
	for j := range a.C {
		sum += (a.C[j] - b.C[j]) * (a.C[j] - b.C[j])
	}
	return math.Sqrt(sum)
}

func try(t *testing.T, id string, e *cause.Eye, v cause.Viewing) eye.State {
	t.Helper()
	trial, err := cause.FindTrial(id)
	if err != nil {
		t.Fatal(err)
	}
	s, err := trial.Apply(e, e.All(), v)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// seen is the number that draws are ordered by.
func seen(t *testing.T, s eye.State) float64 {
	t.Helper()
	v, err := cause.VisualStrehl(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// lossEverywhere is the lines of a field with that deviation, dB, at all its points.
func lossEverywhere(dB string) []string {
	lines := []string{"fields:", "  - pattern: free", "    eye: right", "    x_is: as-patient-sees", "    kind: total-deviation", "    points:"}
	for _, at := range []string{"-20, y_deg: 20", "20, y_deg: 20", "-20, y_deg: -20", "20, y_deg: -20", "0, y_deg: 0"} {
		lines = append(lines, "      - {x_deg: "+at+", value_db: "+dB+"}")
	}
	return lines
}
