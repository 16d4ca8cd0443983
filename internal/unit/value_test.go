package unit

import "testing"

func TestTheZeroValueIsMissing(t *testing.T) {
	var v Value[MM]
	if v.Given() || v.From.String() != "missing" {
		t.Errorf("a value nobody gave is %v", v.From)
	}
	if !(Value[MM]{From: Measured}).Given() {
		t.Error("a measured 0 counts as not given")
	}
}

func TestAMissingValueTakesTheStandInWithItsReason(t *testing.T) {
	got := Value[MM]{}.Or(5.1, Typical, "usual at 68")
	want := Value[MM]{V: 5.1, From: Typical, Source: "usual at 68"}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestAGivenValueKeepsAllItCarries(t *testing.T) {
	v := Value[Dioptres]{V: 0, SD: 0.25, From: Measured, Source: "trial frame", File: "case.yaml", Line: 12}
	if got := v.Or(3, Assumed, "nothing better"); got != v {
		t.Errorf("got %+v, want %+v", got, v)
	}
}

func TestOriginsAreNamed(t *testing.T) {
	want := map[Origin]string{Missing: "missing", Measured: "measured", Typical: "typical", Assumed: "assumed", 9: "origin(9)", -1: "origin(-1)"}
	for o, name := range want {
		if o.String() != name {
			t.Errorf("origin %d prints %q, want %q", int(o), o, name)
		}
	}
}
