package light

import (
	"fmt"
	"math"
)

// CardWidthMM is the width of a bank or identity card (ISO/IEC 7810, ID-1): held
// against a screen it measures the screen's pixels.
const CardWidthMM = 85.60

// PitchFromCard returns the distance between the pixels of a screen, mm, on which
// a card of [CardWidthMM] is cardPx pixels wide:
//
//	p = 85.60 / cardPx
//
// It is an error when cardPx is not from 50 to 10000.
func PitchFromCard(cardPx float64) (mm float64, err error) {
	if !(cardPx >= 50 && cardPx <= 10000) {
		return 0, fmt.Errorf("card: is %v pixels wide, expected 50 to 10000 (hint: about 309 on a screen of 92 pixels an inch)", cardPx)
	}
	return CardWidthMM / cardPx, nil
}

// TrueDistanceMM returns how far away, mm, a picture of stepDeg degrees per
// sample has its true size in its middle, one sample to a pixel of pitchMM mm:
//
//	d = p / tan(step)
//
// Towards the edge of a flat screen the picture is then too small: at angle θ by
// cos² θ or, across, cos θ. It is an error when a number is not above zero, the
// pitch above 10 mm or the step above 1 degree.
func TrueDistanceMM(pitchMM, stepDeg float64) (float64, error) {
	if !(pitchMM > 0 && pitchMM <= 10) {
		return 0, fmt.Errorf("true size: pixels are %v mm apart, expected above 0 and at most 10 (hint: 0.2 to 0.3 on most screens)", pitchMM)
	}
	if !(stepDeg > 0 && stepDeg <= 1) {
		return 0, fmt.Errorf("true size: a sample is %v degrees, expected above 0 and at most 1 (hint: the wide pictures have 1/60)", stepDeg)
	}
	return pitchMM / math.Tan(stepDeg*math.Pi/180), nil
}
