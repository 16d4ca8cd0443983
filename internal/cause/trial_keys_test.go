package cause_test

import (
	"strings"
	"testing"

	"simview/internal/cause"
)

func TestStepsStandInTheOrderOfTheirPlanes(t *testing.T) {
	for text, want := range map[string]string{
		"pinhole+rigid-lens+spectacles":                                       "spectacles+rigid-lens+pinhole",
		"pinhole:decentration_mm=+0.5:diameter_mm=1":                          "pinhole:diameter_mm=1:decentration_mm=0.5",
		"lens-straight-refracted:draws=1e+2:seed=+3+pinhole:diameter_mm=1.00": "lens-straight-refracted:draws=100:seed=3+pinhole:diameter_mm=1",
		"pinhole+lens-straight-refracted:draws=20":                            "lens-straight-refracted:draws=20+pinhole",
		"surface-smoothed-refracted:outcome=worse":                            "surface-smoothed-refracted:outcome=worse",
		"soft-lens:toric=yes:masking=0.2":                                     "soft-lens:masking=0.2:toric=yes",
		"pinhole":                                                             "pinhole",
	} {
		k, err := cause.FindTrial(text)
		if err != nil || k.ID != want {
			t.Errorf("%s: %v: became %s, want %s", text, err, k.ID, want)
		}
		again, err := cause.FindTrial(k.ID)
		if err != nil || again.ID != k.ID || again.Label != k.Label || again.InRoom != k.InRoom {
			t.Errorf("%s is not read back: %v", k.ID, err)
		}
	}
}

func TestATrialWithAWhatIfInItIsAWhatIf(t *testing.T) {
	for text, want := range map[string]bool{"spectacles+pinhole": true, "lens-straight-refracted+pinhole": false} {
		if k, err := cause.FindTrial(text); err != nil || k.InRoom != want {
			t.Errorf("%s: %v: in the room %v", text, err, k.InRoom)
		}
	}
}

func TestWhatCannotBeTriedIsRefusedWithAHint(t *testing.T) {
	for text, want := range map[string]string{
		"":                                    `trial "": not known; hint: `,
		"pinhole+":                            `not known; hint`,
		"nix:a=1":                             `"nix" is not known; hint: `,
		"pinhole:size=2":                      `pinhole has no setting "size=2"; hint: write key=value, the keys are diameter_mm=1.2 (0.5 to 4)`,
		"pinhole:diameter_mm":                 `hint: write key=value`,
		"pinhole:diameter_mm=0.1":             `diameter_mm must be a number from 0.5 to 4 (got "0.1")`,
		"pinhole:diameter_mm=NaN":             `diameter_mm must be a number`,
		"pinhole:diameter_mm=1:diameter_mm=2": `diameter_mm is set twice`,
		"spectacles:vertex_mm=2":              `spectacles has no settings`,
		"soft-lens:toric=maybe":               `toric must be one of no, yes (got "maybe")`,
		"soft-lens+rigid-lens":                `both act at the contact lens; hint: leave one out`,
		"spectacles+spectacles-exact":         `both act at the glasses`,
		"lens-straight-refracted:draws=20.5":  `draws must be a whole number from 10 to 2000`,
		"lens-straight-refracted:draws=20+surface-smoothed-refracted:draws=30": `drawn together, set it once`,
	} {
		if _, err := cause.FindTrial(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestTheRoomComesBeforeTheWhatIfs(t *testing.T) {
	room := true
	for _, k := range cause.Trials {
		if k.InRoom && !room {
			t.Errorf("%s stands among the what-ifs", k.ID)
		}
		room = k.InRoom
		if k.InRoom == (len(k.Keys()) > 0 && strings.HasPrefix(k.Keys()[0], "outcome=exact")) {
			t.Errorf("%s: only a what-if has outcomes", k.ID)
		}
		if !k.InRoom && k.Assumes == "" {
			t.Errorf("%s does not say what it rests on", k.ID)
		}
	}
}

func TestAChosenOutcomeIsPartOfTheName(t *testing.T) {
	k, err := cause.FindTrial("lens-straight-refracted:seed=3+pinhole")
	if err != nil {
		t.Fatal(err)
	}
	w := k.With(cause.Worse)
	if w.ID != "lens-straight-refracted:outcome=worse:seed=3+pinhole" || k.HasOutcome() || !w.HasOutcome() {
		t.Errorf("%s of %s", w.ID, k.ID)
	}
	if again := w.With(cause.Better); again.ID != "lens-straight-refracted:outcome=better:seed=3+pinhole" {
		t.Errorf("became %s", again.ID)
	}
	if back, err := cause.FindTrial(w.ID); err != nil || back.ID != w.ID {
		t.Errorf("%v: %s", err, back.ID)
	}
}

// FuzzFindTrial: no text breaks the reader, and what it reads it reads back.
func FuzzFindTrial(f *testing.F) {
	for _, text := range []string{"pinhole", "rigid-lens+pinhole:diameter_mm=1e+0", "lens-straight-refracted:outcome=worse:draws=20", "+", ":", "a+b:c=d"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		k, err := cause.FindTrial(text)
		if err != nil {
			return
		}
		for _, id := range []string{k.ID, k.With(cause.Worse).ID} {
			if again, err := cause.FindTrial(id); err != nil || again.ID != id {
				t.Errorf("%q became %q, which is read as %q (%v)", text, id, again.ID, err)
			}
		}
	})
}
