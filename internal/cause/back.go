package cause

import (
	"fmt"
	"math"

	"simview/internal/casefile"
	"simview/internal/cornea"
	"simview/internal/eye"
	"simview/internal/unit"
)

// back adds the back surface of the cornea, which a rigid lens uncovers, and
// says what it is.
func (e *Eye) back(b *casefile.CorneaBack) (words string, from unit.Origin, err error) {
	part := eye.Part{By: string(Cornea), Plane: eye.BackCornea, From: eye.Measured}
	from = unit.Measured
	switch {
	case b.Wavefront != nil:
		t := b.Wavefront.Terms.Keep(3, b.Wavefront.Terms.Order())
		part.PathUM = t.PathUM
		e.widest(b.Wavefront)
		words = fmt.Sprintf("its back: measured wavefront, %.2f µm RMS (order 3 up) at %.1f mm", t.RMS(), 2*t.RadiusMM)
	case b.Map != nil:
		px, py, reach, err := e.onMap(b.Map.Front)
		if err != nil {
			return "", from, fmt.Errorf("map: %w", err)
		}
		part.PathUM = func(x, y float64) float64 { return b.Map.Front.BackUM(x+px, y+py) }
		e.limit(2 * reach)
		words = fmt.Sprintf("its back: measured map over %.1f mm", 2*reach)
	case b.Surface != nil:
		s, err := seeded(b.Surface, cornea.CorneaIndex, cornea.AqueousIndex)
		if err != nil {
			return "", from, fmt.Errorf("surface: %w", err)
		}
		part.From, part.PathUM = eye.Generated, s.PathUM
		from, words = b.Surface.RMSUM.From, "its back, "+surfaceWords(b.Surface)
	default:
		from = b.CompensatesPercent.From
		part.From, part.PathUM = max(eye.OriginOf(from), weakest(e.cornea)), e.taken(b.CompensatesPercent.V/100)
		words = fmt.Sprintf("its back takes back %.0f %% of that", b.CompensatesPercent.V)
	}
	e.cornea = append(e.cornea, part)
	return words, from, nil
}

// weakest is how the least sure of some parts is known.
func weakest(parts []eye.Part) (from eye.Origin) {
	for _, p := range parts {
		from = max(from, p.From)
	}
	return from
}

// taken is the share of the irregular front that the back takes back.
//
//	W_back = -share W_front
func (e *Eye) taken(share float64) func(x, y float64) float64 {
	front := append([]eye.Part(nil), e.cornea...)
	return func(x, y float64) float64 {
		w := 0.0
		for _, p := range front {
			w += p.PathUM(x, y)
		}
		return -share * w
	}
}

// resolveTears makes the tear film, if the case describes it.
func (e *Eye) resolveTears() (err error) {
	if t := e.Data.Tears; t != nil {
		if e.film, err = cornea.NewTearFilm(t.Film()); err != nil {
			return fmt.Errorf("tears: %w", err)
		}
	}
	return nil
}

// withTears adds the tear film as it is when the eye looks.
func (e *Eye) withTears(s eye.State, v Viewing) (eye.State, error) {
	t := v.SinceBlinkS
	if t == 0 {
		return s, nil
	}
	if e.film == nil {
		return s, fmt.Errorf("seconds since the blink: the case does not describe the tear film of the %s eye; hint: write eyes.%s.tears", e.Side, e.Side)
	}
	s = s.With(eye.Part{By: "tears", Plane: eye.Tears, From: eye.Generated, PathUM: func(x, y float64) float64 { return e.film.PathUM(x, y, t) }})
	film := e.Data.Tears.Film()
	words := fmt.Sprintf("tear film uneven by %.2f µm RMS %.3g s after a blink; its course is assumed", film.RMSAtUM(t), t)
	if s.PupilMM > 2*cornea.FilmRadiusMM {
		words += fmt.Sprintf(", beyond %.0f mm it fades", 2*math.Round(cornea.FilmRadiusMM))
	}
	return s.Note(words), nil
}

// hide leaves the share of the front of the cornea that a rigid lens leaves, and
// of an unevenness that consists of something else the share of that, unless the
// trial names an index of its own. The film that dried on the cornea now lies
// under the lens and fills it; the one on the lens is taken as even.
func (t *tryout) hide(share, index, tears float64) {
	uneven, of := share, ""
	if k := t.e.Data.Cornea; index == cornea.CorneaIndex && k != nil && k.Surface != nil {
		if n, err := cornea.Medium(k.Surface.MadeOf).Index(); err == nil && n != cornea.CorneaIndex {
			uneven, _ = cornea.RigidShare(n, tears) // 0 where the tears are denser
			of = fmt.Sprintf(", %.1f %% of its uneven %s", 100*uneven, k.Surface.MadeOf)
		}
	}
	t.change(unevenFront, uneven)
	t.change(func(p eye.Part) bool { return onFront(p) && !unevenFront(p) }, share)
	t.change(func(p eye.Part) bool { return p.Plane == eye.Tears }, 0)
	t.s = t.s.Note(fmt.Sprintf("the rigid lens leaves %.1f %% of the front of the cornea%s", 100*share, of))
}
