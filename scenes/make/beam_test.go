package main

import (
	"math"
	"testing"
)

func TestTheDippedBeamKeepsTheLimitsOfTheRegulation(t *testing.T) {
	// UN R112, class B, right-hand traffic: places as the driver of that car
	// sees them, degrees right and up; least and most cd.
	for _, c := range []struct {
		name         string
		h, v, lo, hi float64
	}{
		{"B50L", -3.43, 0.57, 0, 350},
		{"BR", 2.5, 1.0, 0, 1750},
		{"75R", 1.15, -0.57, 10100, math.Inf(1)},
		{"75L", -3.43, -0.57, 0, 10600},
		{"50L", -3.43, -0.86, 0, 13200},
		{"50R", 1.72, -0.86, 10100, math.Inf(1)},
		{"50V", 0, -0.86, 5100, math.Inf(1)},
		{"25L", -9, -1.72, 1700, math.Inf(1)},
		{"25R", 9, -1.72, 1700, math.Inf(1)},
		{"zone III", -6, 2, 0, 625},
		{"zone III", 4, 2, 0, 625},
	} {
		if cd := dipped(c.h, c.v); cd < c.lo || cd > c.hi {
			t.Errorf("%s: %g cd, want %g to %g", c.name, cd, c.lo, c.hi)
		}
	}
}
