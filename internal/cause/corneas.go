package cause

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/cornea"
	"simview/internal/eye"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// resolveCornea builds the irregular cornea at strength 1: its front from
// coefficients, from a measured map or from a seeded surface, then its back.
func (e *Eye) resolveCornea() error {
	c := e.Data.Cornea
	if c == nil {
		return nil
	}
	words, from, err := e.front(c)
	if err != nil {
		return err
	}
	if c.Back == nil && (c.Wavefront != nil || c.Map != nil) {
		e.note("back of the cornea: not given, taken as regular (assumed)")
	}
	if c.Back != nil {
		more, backFrom, err := e.back(c.Back)
		if err != nil {
			return fmt.Errorf("cornea.back: %w", err)
		}
		if words != "" {
			words += "; "
		}
		words, from = words+more, max(from, backFrom)
	}
	if words != "" {
		e.add(Cause{ID: Cornea, Label: "Irregular cornea", Amount: words, From: from})
	}
	return nil
}

// front adds the front surface and says what it is; no words for a regular one.
func (e *Eye) front(c *casefile.Cornea) (words string, from unit.Origin, err error) {
	from = unit.Measured
	if w := c.Wavefront; w != nil {
		t, err := e.beyondUsual(w.Terms)
		if err != nil {
			return "", from, fmt.Errorf("cornea.wavefront: %w", err)
		}
		e.cornea = append(e.cornea, eye.Part{By: string(Cornea), Plane: eye.FrontCornea, From: eye.Measured, PathUM: t.PathUM})
		e.widest(w)
		words = fmt.Sprintf("measured corneal wavefront, %.2f µm RMS (order 3 up) at %.1f mm", w.Terms.RMSOrders(3, w.Terms.Order()), 2*t.RadiusMM)
	}
	if m := c.Map; m != nil {
		if words, err = e.mapped(m.Front); err != nil {
			return "", from, fmt.Errorf("cornea.map: %w", err)
		}
	}
	if m := c.Surface; m != nil {
		if err := e.irregular(m); err != nil {
			return "", from, fmt.Errorf("cornea.surface: %w", err)
		}
		from, words = m.RMSUM.From, surfaceWords(m)
	}
	return words, from, nil
}

// surfaceWords says what a seeded surface is.
func surfaceWords(m *casefile.Surface) string {
	of := ""
	if m.MadeOf != "" && m.MadeOf != string(cornea.WholeCornea) {
		of = " of " + m.MadeOf
	}
	return fmt.Sprintf("%s%s: surface uneven by %.1f µm RMS, grain %.1f mm, over %.1f mm", m.Kind, of, float64(m.RMSUM.V), float64(m.GrainMM.V), 2*float64(m.ZoneRadiusMM.V))
}

// beyondUsual returns orders 3 and up of a measured cornea without the spherical
// aberration that the reference eye's cornea already has.
func (e *Eye) beyondUsual(t zernike.Terms) (zernike.Terms, error) {
	usual, err := e.corneaSA.ScaleUp(t.RadiusMM)
	if err != nil {
		return usual, err
	}
	usual.WavelengthNM = t.WavelengthNM
	if t, err = t.Sub(usual); err != nil {
		return t, err
	}
	return t.Keep(3, t.Order()), nil
}

// irregular adds a seeded surface between air and what it is made of.
func (e *Eye) irregular(m *casefile.Surface) error {
	n, err := cornea.Medium(m.MadeOf).Index()
	if err != nil {
		return err
	}
	s, err := seeded(m, 1, n)
	if err != nil {
		return err
	}
	e.cornea = append(e.cornea, eye.Part{By: string(Cornea), Plane: eye.FrontCornea, From: eye.Generated, PathUM: s.PathUM})
	return nil
}

// seeded makes the surface of a case between two indices, from the front.
func seeded(m *casefile.Surface, before, behind float64) (*cornea.Surface, error) {
	s, err := cornea.NewSurface(cornea.Irregularity{
		Kind: cornea.Kind(m.Kind), RMSUM: float64(m.RMSUM.V), GrainMM: float64(m.GrainMM.V),
		CentreXMM: float64(m.ZoneCentre.X), CentreYMM: float64(m.ZoneCentre.Y), ZoneRadiusMM: float64(m.ZoneRadiusMM.V), Seed: m.Seed,
	})
	if err != nil {
		return nil, err
	}
	return s.Between(before, behind)
}

// widest notes the pupil over which a wavefront was measured; where several
// were, the narrowest limits the pictures.
func (e *Eye) widest(w *casefile.Wavefront) {
	e.limit(float64(w.PupilMM.V))
}

func (e *Eye) limit(pupilMM float64) {
	if e.limitMM == 0 || pupilMM < e.limitMM {
		e.limitMM = pupilMM
	}
}

// resolveRest compares a measured whole-eye wavefront with what the causes
// explain; the difference in orders 3 and up is a cause of its own. Its second
// order is shown beside the refraction, never added.
func (e *Eye) resolveRest() error {
	w := e.Data.Wavefront
	if w == nil {
		return nil
	}
	e.widest(w)
	whole := w.Terms
	all := e.All()
	delete(all, Rest)
	s, err := e.optics(all)
	if err != nil {
		return err
	}
	e.unexplained, err = remainder(whole, s)
	if err != nil {
		return err
	}
	e.add(Cause{
		ID: Rest, Label: "Unexplained wavefront", From: unit.Measured,
		Amount: fmt.Sprintf("measured whole eye %.2f µm RMS (order 3 up, %.1f mm) minus the causes above", whole.RMSOrders(3, whole.Order()), 2*whole.RadiusMM),
	})
	return nil
}

// remainder fits what the parts explain over the measured pupil with the
// measured orders, and returns measured minus explained from order 3 up.
func remainder(whole zernike.Terms, s eye.State) (eye.Part, error) {
	var xs, ys, ws []float64
	const n = 41
	for j := range n {
		for i := range n {
			x, y := (2*float64(i)/(n-1)-1)*whole.RadiusMM, (2*float64(j)/(n-1)-1)*whole.RadiusMM
			if x*x+y*y <= whole.RadiusMM*whole.RadiusMM {
				xs, ys, ws = append(xs, x), append(ys, y), append(ws, s.PathUM(x, y))
			}
		}
	}
	explained, _, err := zernike.Fit(xs, ys, ws, whole.RadiusMM, max(4, whole.Order()))
	if err != nil {
		return eye.Part{}, fmt.Errorf("wavefront: %w", err)
	}
	explained.WavelengthNM = whole.WavelengthNM
	left, err := whole.Sub(explained)
	if err != nil {
		return eye.Part{}, fmt.Errorf("wavefront: %w", err)
	}
	return eye.Part{By: string(Rest), Plane: eye.Unexplained, From: eye.NotExplained, PathUM: left.Keep(3, left.Order()).PathUM}, nil
}
