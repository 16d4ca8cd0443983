package unit

import (
	"math"
	"strings"
	"testing"
)

// rounding is a few units in the last place of numbers up to a hundred.
const rounding = 1e-12

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > rounding {
		t.Errorf("%s = %.15g, want %.15g", what, got, want)
	}
}

// The radian is defined by 180 degrees = pi, the degree has 60 minutes of arc
// (The International System of Units, 9th edition, table 8; from memory).
func TestADegreeIsSixtyMinutesAndPiOver180Radians(t *testing.T) {
	near(t, "180 degrees in radians", Degrees(180).Radians(), math.Pi)
	near(t, "-90 degrees in radians", Degrees(-90).Radians(), -math.Pi/2)
	near(t, "1 degree in minutes", Degrees(1).Arcmin(), 60)
	near(t, "-0.5 degrees in minutes", Degrees(-0.5).Arcmin(), -30)
}

// A decibel is a tenth of a power of ten of a power-like quantity; of an
// amplitude-like one, a twentieth (the same table; from memory). The field test
// counts luminance by the first, contrast is counted by the second.
func TestTheTwoDecibelsDifferByASquare(t *testing.T) {
	near(t, "10 perimetric dB", PerimetricDB(10).Factor(), 10)
	near(t, "20 contrast dB", ContrastDB(20).Factor(), 10)
	near(t, "-30 perimetric dB", PerimetricDB(-30).Factor(), 1e-3)
	near(t, "0 dB", PerimetricDB(0).Factor(), 1)
	for _, db := range []float64{-25, -3, 0.5, 7} {
		c := ContrastDB(db).Factor()
		near(t, "contrast factor squared", c*c, PerimetricDB(db).Factor())
	}
}

func TestSidesAreReadAndWrittenInTheSameWords(t *testing.T) {
	for _, s := range []Side{Right, Left} {
		got, err := ParseSide(s.String())
		if err != nil || got != s {
			t.Errorf("ParseSide(%q) = %v, %v", s, got, err)
		}
		if s.Other() == s || s.Other().Other() != s {
			t.Errorf("the other of %v is %v", s, s.Other())
		}
	}
	if got := Side(7).String(); got != "side(7)" {
		t.Errorf("a side that is none prints %q", got)
	}
}

func TestASideInOtherWordsIsRefusedAndQuoted(t *testing.T) {
	for _, bad := range []string{"", "OD", "Right", " left", "both"} {
		_, err := ParseSide(bad)
		if err == nil || !strings.Contains(err.Error(), "right or left") || !strings.Contains(err.Error(), bad) {
			t.Errorf("ParseSide(%q): %v", bad, err)
		}
	}
}
