package unit

import "testing"

// Whoever faces a patient has the patient's right eye on the left, its temple
// further left, and its nose to the right.
func TestTheTempleOfARightEyeIsToTheCliniciansLeft(t *testing.T) {
	if Right.TemporalX() != -1 {
		t.Errorf("temple of the right eye at x = %+g, want -1", Right.TemporalX())
	}
	if Left.TemporalX() != 1 {
		t.Errorf("temple of the left eye at x = %+g, want +1", Left.TemporalX())
	}
}
