package cornea

import (
	"fmt"
	"math"
)

// Film describes how uneven the tear film is in the seconds after a blink.
type Film struct {
	RMSUM    float64 // root mean square height at BreakupS, over a disc of radius [FilmRadiusMM], µm
	GrainMM  float64 // typical distance from one thin place to the next, mm
	BreakupS float64 // seconds from the blink until the film breaks up
	Seed     uint64  // same seed, same film
}

// FilmRadiusMM is the disc about the pupil's centre over which the unevenness of
// a film is stated; no pupil is wider.
const FilmRadiusMM = 4.0

// Limits of a film.
const (
	filmZoneMM   = FilmRadiusMM / (1 - softEdge) // its fading edge lies outside the disc
	maxFilmRMSUM = 2                             // the film is some 3 µm thick (from memory)
	minBreakupS  = 1
	maxBreakupS  = 60
	minFilmGrain = 0.15 // mm; finer needs a finer grid
)

// The course of a film after a blink: an assumption, of the form that is often
// described (the film first evens out, then thins unevenly) and with numbers of
// our own.
const (
	spreadShare = 0.5 // unevenness that the lid leaves, over that at breakup
	spreadS     = 1.0 // time in which it evens out to 1/e, s
	riseMM      = 1.0 // how far the lid's pattern rises while it does
	mostThinned = 2.0 // from twice the breakup time on the film stays as it is
)

// Check returns an error when a number is not finite or out of range.
func (f Film) Check() error {
	switch {
	case !(f.RMSUM >= 0 && f.RMSUM <= maxFilmRMSUM):
		return fmt.Errorf("cornea: tear film uneven by %v µm RMS: expected 0 to %d; the film itself is some 3 µm thick", f.RMSUM, maxFilmRMSUM)
	case !(f.BreakupS >= minBreakupS && f.BreakupS <= maxBreakupS):
		return fmt.Errorf("cornea: tear film breaks up after %v s: expected %d to %d", f.BreakupS, minBreakupS, maxBreakupS)
	case !(f.GrainMM >= minFilmGrain && f.GrainMM <= FilmRadiusMM):
		return fmt.Errorf("cornea: grain of the tear film %v mm: expected %g to %g", f.GrainMM, minFilmGrain, FilmRadiusMM)
	}
	return nil
}

// TearFilm is a film that changes with the time since the blink; it may be read
// from several goroutines.
type TearFilm struct {
	film         Film
	spread, thin *Surface // of 1 µm RMS over the disc
}

// NewTearFilm makes the film that f describes; errors are those of [Film.Check].
func NewTearFilm(f Film) (*TearFilm, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	t := &TearFilm{film: f}
	for k, to := range []**Surface{&t.spread, &t.thin} {
		s, err := NewSurface(Irregularity{Kind: Grain, RMSUM: 1, GrainMM: f.GrainMM, ZoneRadiusMM: filmZoneMM, Seed: 2*f.Seed + uint64(k)})
		if err != nil {
			return nil, err
		}
		if s, err = s.Between(1, TearIndex); err != nil {
			return nil, err
		}
		*to = s.Times(1 / s.discRMS(FilmRadiusMM))
	}
	return t, nil
}

// discRMS returns the root mean square height, about the mean, over a disc about
// the zone's centre.
func (s *Surface) discRMS(radiusMM float64) float64 {
	var sum, square, n float64
	for i, h := range s.height {
		if s.radius(i) <= radiusMM {
			sum, square, n = sum+h, square+h*h, n+1
		}
	}
	return math.Abs(s.scale) * math.Sqrt(square/n-sum*sum/n/n)
}

// shares returns how much of the pattern that the lid leaves and of that in
// which the film thins is there t seconds after the blink, 1 at breakup.
//
//	a(t) = 0.5 exp(-t / 1 s),  b(t) = min(t / t_breakup, 2)
func (f Film) shares(t float64) (lid, thinned float64) {
	return spreadShare * math.Exp(-t/spreadS), min(t/f.BreakupS, mostThinned)
}

// RMSAtUM returns the unevenness in µm RMS over the disc, t seconds after the
// blink.
//
//	RMS(t) = RMS √(a² + b²)
func (f Film) RMSAtUM(t float64) float64 { return f.RMSUM * math.Hypot(f.shares(t)) }

// HeightUM returns the height of the film at (xMM, yMM), t >= 0 seconds after
// the blink, in µm about its mean. The lid's pattern L rises as it evens out,
// the other one, T, stays where it is.
//
//	h = RMS (a L(x, y - rise (1 - exp(-t / 1 s))) + b T(x, y))
func (f *TearFilm) HeightUM(xMM, yMM, t float64) float64 {
	a, b := f.film.shares(t)
	up := riseMM * (1 - math.Exp(-t/spreadS))
	return f.film.RMSUM * (a*f.spread.HeightUM(xMM, yMM-up) + b*f.thin.HeightUM(xMM, yMM))
}

// PathUM returns the wavefront of the film at (xMM, yMM), t >= 0 seconds after
// the blink, in µm.
//
//	W = -(n_tears - 1) h
func (f *TearFilm) PathUM(xMM, yMM, t float64) float64 {
	return -(TearIndex - 1) * f.HeightUM(xMM, yMM, t)
}
