package csf

import "testing"

func TestPositiveLossMakesTheEyeWorse(t *testing.T) {
	if !(Remaining(4, 3) < 1) {
		t.Error("a loss of +3 dB must leave less than all")
	}
	if !(Sensitivity(WatsonAhumada{}, 4, Place{LossDB: 3}, 1) < Sensitivity(WatsonAhumada{}, 4, Place{}, 1)) {
		t.Error("a loss must lower sensitivity")
	}
}

func TestPerimetricDBAreTenLog10(t *testing.T) {
	if got := Remaining(4, 10); got < 0.0999 || got > 0.1001 {
		t.Errorf("10 dB must leave a tenth (got %v)", got)
	}
}
