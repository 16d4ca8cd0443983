package web

import (
	"errors"
	"fmt"
	"testing"
)

func TestWhatIsKeptStaysWithinItsBound(t *testing.T) {
	k := newKept(10, func(s string) int { return len(s) })
	made := 0
	get := func(name, v string) {
		if got, err := k.get(name, func() (string, error) { made++; return v, nil }); got != v || err != nil {
			t.Errorf("%s: %q %v", name, got, err)
		}
	}
	get("a", "1234")
	get("b", "1234")
	get("a", "1234") // now the one used last
	get("c", "1234") // b has to go
	if made != 3 || k.has("b") || !k.has("a") || !k.has("c") || k.sum != 8 {
		t.Errorf("made %d, sum %d, order %v", made, k.sum, k.order)
	}
	get("large", "12345678901")
	if k.has("large") || !k.has("a") {
		t.Error("what is above the bound alone was kept")
	}
	if _, err := k.get("bad", func() (string, error) { return "", errors.New("no") }); err == nil || k.has("bad") {
		t.Error("a failure was kept")
	}
	for i := range 100 {
		get(fmt.Sprint(i), "123")
	}
	if k.sum > 10 || len(k.by) != len(k.order) {
		t.Errorf("sum %d, %d values, %d names", k.sum, len(k.by), len(k.order))
	}
}
