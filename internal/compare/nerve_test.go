package compare_test

import (
	"strings"
	"testing"

	"simview/internal/compare"
	"simview/internal/csf"
	"simview/internal/fieldmask"
)

func TestSettingsKeepHowFieldLossIsDrawn(t *testing.T) {
	s := compare.Settings{Eye: "right", CSF: "barten", Appearance: "missing", NormalPeriphery: true, Outline: true}
	o, err := s.Options()
	n := o.Manner.Nerve
	if err != nil || n.Model != csf.Model(csf.Barten{}) || n.Appearance != fieldmask.Missing || !n.NormalPeriphery || !n.Outline {
		t.Errorf("got %+v, %v", n, err)
	}
	for _, bad := range []compare.Settings{{Eye: "right", CSF: "x"}, {Eye: "right", Appearance: "x"}} {
		if _, err := bad.Options(); err == nil || !strings.Contains(err.Error(), "must be one of") {
			t.Errorf("%+v: got %v", bad, err)
		}
	}
}

func TestDarkPatchesPutTheUrgentSignsFirst(t *testing.T) {
	dark, err := compare.Settings{Eye: "right", Appearance: "dark"}.Options()
	if err != nil || !strings.Contains(compare.Urgent(dark), "the same day") {
		t.Errorf("got %q, %v", compare.Urgent(dark), err)
	}
	if compare.Urgent(compare.Options{}) != "" {
		t.Error("the usual way needs no warning")
	}
}
