package explain

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/doubt"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// what an input changes.
type reach int

const (
	wavefront reach = iota // the case is resolved again
	glasses                // the error that glasses leave over
	scatter                // straylight
	field                  // depth of the lost field
	reading                // field loss where the eye reads
	letters                // the measured acuity, and with it what is not explained
)

// input is one measured quantity of the eye and how the case reads with another
// value of it.
type input struct {
	doubt.Input
	reach reach
	moves []cause.ID // the causes whose wavefront it changes; nil: all
	night int        // -1 matters by day only, +1 by night only, 0 always
	set   func(d *casefile.Eye, v float64)
}

// Noise of measurements where the case does not state it, one standard deviation.
const (
	sphereSD      = 0.25 // D; 95 in 100 repeats within 0.5 D (Thibos2004, limits of objective refraction)
	axisSD        = 10   // degrees, for cylinders below 1 D (common practice)
	decentredSD   = 0.1  // mm (assumed)
	tiltSD        = 1    // degrees (assumed)
	roughSD       = 0.3  // of the height itself (assumed: read off a map by eye)
	termsSD       = 0.1  // of a measured wavefront (assumed)
	straylightSD  = 0.08 // log units, repeat of compensation comparison (from memory)
	pupilSD       = 0.3  // mm (assumed)
	meanDefectSD  = 0.61 // dB, five repeats within weeks (Urata2020)
	untestedSD    = 3    // dB, of a loss between tested places (assumed)
	acuitySD      = 0.05 // logMAR; 95 in 100 repeats within one line
	notStatedHere = "not stated in the case, taken as usual"
)

// numeric are the kinds of numbers a case states.
type numeric interface{ ~float64 }

// measured turns a value of the case into an input.
func measured[T numeric](name, unitName string, v unit.Value[T], usualSD float64, p doubt.Prior) doubt.Input {
	i := doubt.Input{Name: name, Unit: unitName, Measured: float64(v.V), SD: v.SD, SDSource: "stated in the case", Prior: p}
	if i.SD == 0 {
		i.SD, i.SDSource = usualSD, notStatedHere
	}
	return i
}

// inputs lists what was measured of an eye and moves its numbers.
func inputs(e *cause.Eye) []input {
	return slices.Concat(lensInputs(e), glassesInputs(e), corneaInputs(e), pupilInputs(e), otherInputs(e))
}

// withLens are the causes that hang on where the lens sits: itself, and what is
// left of the error in the glasses once its share is taken out.
var withLens = []cause.ID{cause.Lens, cause.Cylinder}

func lensInputs(e *cause.Eye) (out []input) {
	m := e.Data.Implant
	if _, ok := e.Cause(cause.Lens); !ok {
		return nil
	}
	lens := func(f func(m *casefile.Implant, v float64)) func(*casefile.Eye, float64) {
		return func(d *casefile.Eye, v float64) {
			c := *d.Implant
			f(&c, v)
			d.Implant = &c
		}
	}
	if m.DecentrationMM.V != 0 {
		p := doubt.Prior{SD: 1, High: 4, Source: "0.2 to 0.3 mm is common, dislocated lenses reach 2 (assumed)"}
		out = append(out, input{Input: measured("lens decentration", "mm", m.DecentrationMM, decentredSD, p), moves: withLens, set: lens(func(m *casefile.Implant, v float64) { m.DecentrationMM.V = unit.MM(v) })})
	}
	if m.TiltDeg.V != 0 {
		p := doubt.Prior{SD: 7, High: 45, Source: "2 to 3 degrees are common, dislocated lenses reach 15 (assumed)"}
		out = append(out, input{Input: measured("lens tilt", "degrees", m.TiltDeg, tiltSD, p), moves: withLens, set: lens(func(m *casefile.Implant, v float64) { m.TiltDeg.V = unit.Degrees(v) })})
	}
	return out
}

func glassesInputs(e *cause.Eye) (out []input) {
	r := e.Data.Refraction
	if r == nil || e.Data.WornFar == nil {
		return nil
	}
	part := func(f func(r *casefile.Refraction, v float64)) func(*casefile.Eye, float64) {
		return func(d *casefile.Eye, v float64) {
			c := *d.Refraction
			f(&c, v)
			d.Refraction = &c
		}
	}
	add := func(i doubt.Input, f func(r *casefile.Refraction, v float64)) {
		out = append(out, input{Input: i, reach: glasses, moves: []cause.ID{cause.Cylinder}, set: part(f)})
	}
	add(measured("refraction, sphere", "D", r.SphereD, sphereSD, doubt.Prior{SD: 3, Source: "spread of refractions (assumed)"}), func(r *casefile.Refraction, v float64) { r.SphereD.V = unit.Dioptres(v) })
	if r.CylinderD.V != 0 {
		p := doubt.Prior{SD: 1.5, Low: -15, High: 0, Source: "spread of cylinders (assumed)"}
		if r.CylinderD.V > 0 {
			p.Low, p.High = 0, 15
		}
		add(measured("refraction, cylinder", "D", r.CylinderD, sphereSD, p), func(r *casefile.Refraction, v float64) { r.CylinderD.V = unit.Dioptres(v) })
		add(measured("refraction, axis", "degrees", r.AxisDeg, axisSD, doubt.Prior{}), func(r *casefile.Refraction, v float64) {
			r.AxisDeg.V = unit.Degrees(math.Mod(v+360, 180))
		})
	}
	return out
}

func corneaInputs(e *cause.Eye) (out []input) {
	k := e.Data.Cornea
	if k != nil && k.Surface != nil {
		s := k.Surface
		p := doubt.Prior{SD: 1, High: 20, Source: "scars and epithelial disease, up to some µm (assumed)"}
		i := measured("height of the irregular cornea", "µm", s.RMSUM, roughSD*float64(s.RMSUM.V), p)
		out = append(out, input{Input: i, moves: []cause.ID{cause.Cornea}, set: func(d *casefile.Eye, v float64) {
			c, u := *d.Cornea, *d.Cornea.Surface
			u.RMSUM.V, c.Surface = unit.UM(v), &u
			d.Cornea = &c
		}})
	}
	if k != nil && k.Wavefront != nil {
		out = append(out, termsInput("wavefront of the cornea", k.Wavefront, func(d *casefile.Eye, w *casefile.Wavefront) {
			c := *d.Cornea
			c.Wavefront = w
			d.Cornea = &c
		}))
	}
	if w := e.Data.Wavefront; w != nil {
		out = append(out, termsInput("wavefront of the whole eye", w, func(d *casefile.Eye, w *casefile.Wavefront) { d.Wavefront = w }))
	}
	return out
}

// termsInput is the size of a measured wavefront as a whole, 1 as measured.
func termsInput(name string, w *casefile.Wavefront, put func(*casefile.Eye, *casefile.Wavefront)) input {
	var sq, noise float64
	for k, c := range w.Terms.C {
		if k >= len(w.SDUM) {
			break
		}
		sq, noise = sq+c*c, noise+w.SDUM[k]*w.SDUM[k]
	}
	i := doubt.Input{Name: "size of the " + name, Unit: "times", Measured: 1, SD: termsSD, SDSource: notStatedHere, Prior: doubt.Prior{Mean: 1, SD: 1, Low: 0, High: 3, Source: "assumed"}}
	if noise > 0 && sq > 0 {
		i.SD, i.SDSource = math.Sqrt(noise/sq), "stated in the case, all terms together"
	}
	return input{Input: i, set: func(d *casefile.Eye, v float64) {
		c := *w
		c.Terms.C = slices.Clone(w.Terms.C)
		for k := range c.Terms.C {
			c.Terms.C[k] *= v
		}
		put(d, &c)
	}}
}

func pupilInputs(e *cause.Eye) (out []input) {
	usual := doubt.Prior{SD: 0.8, Low: 1, High: 9, Source: "spread between people of an age (from memory)"}
	for k, v := range []unit.Value[unit.MM]{e.Data.PupilBrightMM, e.Data.PupilDimMM} {
		if !v.Given() {
			continue
		}
		night := 2*k - 1
		p := usual
		p.Mean = []float64{3, 5.5}[k]
		i := input{Input: measured([]string{"bright pupil", "dim pupil"}[k], "mm", v, pupilSD, p), night: night}
		i.set = func(d *casefile.Eye, v float64) {
			if night < 0 {
				d.PupilBrightMM.V = unit.MM(v)
			} else {
				d.PupilDimMM.V = unit.MM(v)
			}
		}
		out = append(out, i)
	}
	return out
}

func otherInputs(e *cause.Eye) (out []input) {
	if _, ok := e.Cause(cause.Scatter); ok {
		p := doubt.Prior{Mean: 1.35, SD: 0.3, High: 3, Source: "eyes with cataract or a hazy cornea, mostly 1.2 to 1.6 (from memory)"}
		out = append(out, input{Input: measured("straylight", "log s", e.Data.Straylight.LogS, straylightSD, p), reach: scatter})
	}
	if _, ok := e.Cause(cause.Field); ok {
		md := meanDefect(e)
		p := doubt.Prior{Mean: -6, SD: 6, Low: -35, High: 2, Source: "people with glaucoma in the clinic (assumed)"}
		out = append(out, input{Input: doubt.Input{Name: "mean deviation of the field", Unit: "dB", Measured: md, SD: meanDefectSD, SDSource: "repeats within weeks, Urata 2020", Prior: p}, reach: field}, readingInput(e))
	}
	if a, ok := acuityWith(e, "glasses"); ok {
		out = append(out, input{Input: measured("measured acuity", "logMAR", a.LogMAR, acuitySD, doubt.Prior{}), reach: letters})
	}
	return out
}

// readingInput is the field loss where the eye reads, as doubtful as the field says.
func readingInput(e *cause.Eye) input {
	i := doubt.Input{Name: "field loss where the eye reads", Unit: "dB", SDSource: "spread of the field there", Prior: doubt.Prior{SD: 10, High: 40, Source: "no loss to all (assumed)"}}
	s, err := e.State(e.All(), cause.Viewing{DistanceM: math.Inf(1)}, cause.Same)
	if err == nil && s.Field != nil {
		loss, x, y := readingPlace(s)
		i.Measured, i.SD = loss, s.Field.SD(x, y)
		if math.IsNaN(i.SD) {
			i.SD, i.SDSource = untestedSD, "not tested there (assumed)"
		}
	}
	return input{Input: i, reach: reading}
}

// meanDefect is that of the first field, dB.
func meanDefect(e *cause.Eye) float64 {
	f := e.Data.Fields[0].Field
	return f.ToTotalDeviation(e.Case.AgeYears.V).MeanDeviation()
}

// acuityWith is the last acuity measured in a way.
func acuityWith(e *cause.Eye, how string) (a casefile.Acuity, ok bool) {
	for _, x := range e.Data.Acuity {
		if x.With == how {
			a, ok = x, true
		}
	}
	return a, ok
}

// variant is the eye with another value of one input; what does not touch the
// wavefront is left out, since it is slow and not asked for.
func variant(e *cause.Eye, i input, v float64) (*cause.Eye, error) {
	d := *e.Data
	d.Fields, d.Straylight = nil, nil
	i.set(&d, v)
	out, err := again(e, &d)
	if err != nil {
		return nil, fmt.Errorf("with %s %.3g %s: %w", i.Name, v, i.Unit, err)
	}
	out.Extrapolate = e.Extrapolate
	return out, nil
}

// again resolves an eye with other data in place of its own.
func again(e *cause.Eye, d *casefile.Eye) (*cause.Eye, error) {
	c := *e.Case
	if e.Side == unit.Right {
		c.Eyes.Right = d
	} else {
		c.Eyes.Left = d
	}
	return cause.Resolve(&c, e.Side)
}

// needs is the refraction at the cornea of an eye's data.
func needs(d *casefile.Eye) (refraction.PowerVector, error) {
	r := d.Refraction
	return refraction.SphereCylinder{Sphere: r.SphereD.V, Cylinder: r.CylinderD.V, AxisDeg: r.AxisDeg.V}.PowerVector().ToCornea(r.VertexMM.V)
}
