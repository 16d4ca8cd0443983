package fieldmask

import (
	"fmt"
	"math"
)

// Levels in dB from which a blind spot seems to be missing or misplaced, and a
// mean deviation seems to be written with the other sign.
const (
	seenDB        = 20.0 // at the place of the blind spot: seen
	unseenDB      = 10.0 // opposite: not seen
	wellSeenDB    = 25.0 // both places of the blind spot: no blind spot there
	betterThanAny = 3.0  // mean deviation of no real field
)

// Doubts returns what looks odd without being wrong for certain. The field is
// used as it is stated; nothing is mended.
func (f Field) Doubts() []Warning {
	var out []Warning
	say := func(format string, a ...any) {
		out = append(out, Warning(f.Source+": "+fmt.Sprintf(format, a...)))
	}
	if f.reachesTemple() {
		say("the file contradicts its own nasal points: 24-2 reaches 27 degrees only towards the nose, but here towards the temple of a %s eye; is the eye or the way of writing x wrong? It is used as stated", f.Side)
	}
	if n := f.added(); f.Pattern == pattern24c && n != addedPlaces {
		say("24-2c with %d places beside those of 24-2, where %d are usual; the places in the file are used", n, addedPlaces)
	}
	if f.Kind == TotalDeviation {
		if m := f.MeanDeviation(); m > betterThanAny {
			say("the mean deviation is %+.1f dB, better than any eye; a loss is negative: is it written with the other sign?", m)
		}
		return out
	}
	f.blindSpotDoubts(say)
	return out
}

// added counts the places of a 24-2c that are not of 24-2.
func (f Field) added() int {
	if f.Pattern != pattern24c {
		return 0
	}
	want, _, err := f.places()
	if err != nil {
		return 0
	}
	n := len(f.Points)
	for _, p := range f.Points {
		for _, at := range want {
			if p.At == at {
				n--
			}
		}
	}
	return n
}

// blindSpotDoubts compares the pair at the blind spot with the pair opposite.
func (f Field) blindSpotDoubts(say func(string, ...any)) {
	if f.Pattern == pattern10 {
		return
	}
	here, low, n := f.pair(15 * temple(f.Side))
	there, _, m := f.pair(-15 * temple(f.Side))
	switch {
	case n == 2 && m == 2 && here > seenDB && there < unseenDB:
		say("the blind spot seems to lie towards the nose (%.0f dB there, %.0f dB where it should be); is the eye or the way of writing x wrong? It is used as stated", there, here)
	case n == 2 && low > wellSeenDB:
		say("no blind spot where it should be (%.0f dB at the worse of its two places); did the eye wander, or is the eye or the way of writing x wrong? It is used as stated", low)
	}
}

// pair returns mean and lowest dB of the points at (x, ±3), and their number.
func (f Field) pair(x float64) (mean, low float64, n int) {
	low = math.Inf(1)
	for _, p := range f.Points {
		if float64(p.At.X) == x && math.Abs(float64(p.At.Y)) == 3 {
			mean, low = mean+p.DB, min(low, p.DB)
			n++
		}
	}
	return mean / max(float64(n), 1), low, n
}
