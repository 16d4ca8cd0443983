package light

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"strings"
	"testing"
)

// tiffTag finds an entry by TIFF 6.0's own layout: header, count, 12 bytes each.
func tiffTag(t *testing.T, b []byte, tag uint16) (kind uint16, count, value uint32) {
	t.Helper()
	le := binary.LittleEndian
	at := le.Uint32(b[4:])
	last := uint16(0)
	for k := range uint32(le.Uint16(b[at:])) {
		e := b[at+2+12*k:]
		if le.Uint16(e) <= last {
			t.Fatal("tags do not rise")
		}
		last = le.Uint16(e)
		if last == tag {
			return le.Uint16(e[2:]), le.Uint32(e[4:]), le.Uint32(e[8:])
		}
	}
	t.Fatalf("tag %d is missing", tag)
	return 0, 0, 0
}

func TestTIFFHoldsEveryValueAsItIs(t *testing.T) {
	m := NewImage(GridAround(1, 2, 5, 3, 0.25))
	for k := range m.R {
		m.R[k], m.G[k], m.B[k] = float32(k)*1e-6, float32(k)*1e5, math.Pi
	}
	var buf bytes.Buffer
	if err := WriteTIFF(&buf, m); err != nil {
		t.Fatal(err)
	}
	b, le := buf.Bytes(), binary.LittleEndian
	if string(b[:4]) != "II*\x00" {
		t.Fatalf("header %q", b[:4])
	}
	for tag, want := range map[uint16]uint32{256: 5, 257: 3, 259: 1, 262: 2, 277: 3, 278: 3, 279: 180, 284: 1} {
		if _, _, v := tiffTag(t, b, tag); v != want {
			t.Errorf("tag %d is %d, want %d", tag, v, want)
		}
	}
	for tag, want := range map[uint16]uint16{258: 32, 339: 3} {
		_, n, at := tiffTag(t, b, tag)
		for k := range n {
			if v := le.Uint16(b[at+2*k:]); v != want || n != 3 {
				t.Errorf("tag %d holds %d x %d, want 3 x %d", tag, n, v, want)
			}
		}
	}
	_, n, at := tiffTag(t, b, 270)
	if words := string(b[at : at+n]); !strings.Contains(words, "cd/m2") || !strings.Contains(words, "0.25 degrees per sample") || !strings.HasSuffix(words, "\x00") {
		t.Errorf("description %q", words)
	}
	_, _, at = tiffTag(t, b, 273)
	if int(at)+180 != len(b) {
		t.Fatalf("data at %d in a file of %d bytes", at, len(b))
	}
	for k := range m.R {
		for c, v := range []float32{m.R[k], m.G[k], m.B[k]} {
			if got := math.Float32frombits(le.Uint32(b[int(at)+12*k+4*c:])); got != v {
				t.Errorf("sample %d of %d: %v, want %v", c, k, got, v)
			}
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestTIFFPassesOnThatItCouldNotBeWritten(t *testing.T) {
	if err := WriteTIFF(full{}, NewImage(GridAround(0, 0, 2, 2, 1))); err == nil {
		t.Error("no error")
	}
}
