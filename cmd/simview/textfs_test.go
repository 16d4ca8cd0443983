//go:build !race

package main

import (
	"errors"
	"io/fs"
	"testing"
)

func TestTextsAreReadBackByTheirPath(t *testing.T) {
	texts := textFS{"case.yaml": "title: x\n", "fields/left.csv": "x_deg\n"}
	for name, want := range texts {
		got, err := fs.ReadFile(texts, name)
		if err != nil || string(got) != want {
			t.Errorf("%s reads %q, %v", name, got, err)
		}
		info, err := fs.Stat(texts, name)
		if err != nil || info.Size() != int64(len(want)) || !info.Mode().IsRegular() {
			t.Errorf("%s: %v, %v", name, info, err)
		}
	}
}

func TestATextThatIsNotThereDoesNotExist(t *testing.T) {
	texts := textFS{"case.yaml": "", "../up.csv": "x"}
	for _, name := range []string{"other.yaml", "../up.csv", "", "/case.yaml"} {
		if _, err := texts.Open(name); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%q: %v", name, err)
		}
	}
}
