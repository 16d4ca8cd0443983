//go:build !race

package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"math"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// array is a float32 array as read by rules of the NumPy array format
// (numpy.lib.format, version 1.0), not by the program's own writer.
type array struct {
	rows, columns int
	v             []float32
}

func readNPY(t *testing.T, data string) array {
	t.Helper()
	if len(data) < 10 || data[:8] != "\x93NUMPY\x01\x00" {
		t.Fatalf("not a NumPy file: %q", data[:min(10, len(data))])
	}
	length := int(binary.LittleEndian.Uint16([]byte(data[8:10])))
	head := data[10 : 10+length]
	if (10+length)%64 != 0 || head[length-1] != '\n' {
		t.Errorf("header of %d bytes is not aligned: %q", length, head)
	}
	if !strings.Contains(head, "'descr': '<f4'") || !strings.Contains(head, "'fortran_order': False") {
		t.Fatalf("header %q", head)
	}
	m := regexp.MustCompile(`'shape': \((\d+), (\d+)\)`).FindStringSubmatch(head)
	if m == nil {
		t.Fatalf("no shape in %q", head)
	}
	a := array{}
	a.rows, _ = strconv.Atoi(m[1])
	a.columns, _ = strconv.Atoi(m[2])
	a.v = make([]float32, a.rows*a.columns)
	body := data[10+length:]
	if len(body) != 4*len(a.v) {
		t.Fatalf("%d bytes for %d values", len(body), len(a.v))
	}
	if err := binary.Read(strings.NewReader(body), binary.LittleEndian, a.v); err != nil {
		t.Fatal(err)
	}
	return a
}

// beside is the JSON beside a PSF.
type beside struct {
	Samples int     `json:"samples"`
	Step    float64 `json:"deg_per_sample"`
	Light   string  `json:"light"`
	Pupil   float64 `json:"pupil_mm"`
	Outside float64 `json:"outside_share"`
	Eye     string  `json:"eye"`
	Lines   []struct{ NM, Weight float64 }
	Origin  []int
	View    []string
}

// A sum of N² float32 values, each right to 6e-8 of itself, is right to 6e-8;
// the share outside the grid belongs to no sample.
const sumTolerance = 1e-5

func TestAPSFIsWrittenAsItsHelpSays(t *testing.T) {
	bench(t)
	must(t, "psf", "case.yaml", "-o", "p.npy")
	a := readNPY(t, read(t, "p.npy"))
	var b beside
	parse(t, read(t, "p.json"), &b)
	if a.rows != a.columns || a.rows != b.Samples || b.Light != "white" || b.Pupil != 3 || b.Eye != "left" {
		t.Errorf("%d x %d, %+v", a.rows, a.columns, b)
	}
	if b.Origin[0] != a.columns/2 || b.Origin[1] != a.rows/2 || len(b.Lines) < 5 {
		t.Errorf("%+v", b)
	}
	sum, weights := 0.0, 0.0
	for _, v := range a.v {
		sum += float64(v)
	}
	for _, l := range b.Lines {
		weights += l.Weight
	}
	if math.Abs(sum-1) > sumTolerance || math.Abs(weights-1) > sumTolerance {
		t.Errorf("sum %g, weights %g, want 1", sum, weights)
	}
	same(t, names(t, "."), []string{"Mrs Miller.png", "case.yaml", "p.json", "p.npy"})
	numpyAgrees(t, a, sum)
}

// numpyAgrees reads the same file with numpy, where it is installed.
func numpyAgrees(t *testing.T, a array, sum float64) {
	const script = `import numpy
a = numpy.load("p.npy")
print(a.dtype.str, a.shape[0], a.shape[1], int(a.argmax()), repr(float(a.sum(dtype="f8"))), a.flags.c_contiguous)`
	out, err := exec.Command("/usr/bin/python3", "-c", script).Output()
	if err != nil {
		t.Log("numpy is not here (python3-numpy of Debian); only the test's own reader was used")
		return
	}
	top := 0
	for i, v := range a.v {
		if v > a.v[top] {
			top = i
		}
	}
	var kind, ordered string
	var rows, columns, peak int
	var total float64
	if _, err := fmt.Fscan(bytes.NewReader(out), &kind, &rows, &columns, &peak, &total, &ordered); err != nil {
		t.Fatalf("%q: %v", out, err)
	}
	if kind != "<f4" || rows != a.rows || columns != a.columns || peak != top || ordered != "True" || math.Abs(total-sum) > sumTolerance {
		t.Errorf("numpy says %s", out)
	}
}

// spread is the second moment of the PSF along the direction a, in degrees
// counter-clockwise as the patient sees it, within 0.2 degrees.
func (a array) spread(step, along float64) float64 {
	sin, cos := math.Sincos(along * math.Pi / 180)
	sum, n := 0.0, 0.0
	for j := range a.rows {
		for i := range a.columns {
			x, y := step*float64(i-a.columns/2), step*float64(a.rows/2-j)
			if x*x+y*y > 0.2*0.2 {
				continue
			}
			v := float64(a.v[j*a.columns+i])
			sum, n = sum+v*(x*cos+y*sin)*(x*cos+y*sin), n+v
		}
	}
	return sum / n
}

// Simple myopic astigmatism 0 / -1.00 x 20 without glasses: the meridian 20 is
// in focus, the meridian 110 is too strong by 1 D, so a point is drawn out
// along 110 as the clinician sees it. Through the mirror between clinician and
// patient that is 180 - 110 = 70 degrees for the patient.
func TestTheFirstRowOfAPSFIsTheTop(t *testing.T) {
	bench(t)
	must(t, "psf", "case.yaml", "--same-glasses", "-o", "p.npy")
	a := readNPY(t, read(t, "p.npy"))
	var b beside
	parse(t, read(t, "p.json"), &b)
	along, across, mirrored := a.spread(b.Step, 70), a.spread(b.Step, 160), a.spread(b.Step, 110)
	if !(along > 2*across && along > 1.2*mirrored) {
		t.Errorf("second moments: along 70 %g, along 160 %g, along 110 %g", along, across, mirrored)
	}
}

func TestAPSFMayBeAPictureOrOneColour(t *testing.T) {
	bench(t)
	must(t, "psf", "case.yaml", "--primary", "red", "--dim", "--view", "reference", "-o", "p.png")
	m, ok := picture(t, "p.png").(*image.Gray)
	if !ok {
		t.Fatal("not grey")
	}
	var b beside
	parse(t, read(t, "p.json"), &b)
	if b.Light != "red" || b.Pupil != 5 || m.Bounds().Dx() != b.Samples {
		t.Errorf("%+v", b)
	}
	mean, weight := 0.0, 0.0
	for _, l := range b.Lines {
		mean, weight = mean+l.NM*l.Weight, weight+l.Weight
	}
	// The red primary of IEC 61966-2-1 has a dominant wavelength of 611 nm.
	if mean /= weight; mean < 590 || mean > 630 {
		t.Errorf("red at %g nm", mean)
	}
	if white := m.GrayAt(b.Samples/2, b.Samples/2).Y; white < 128 {
		t.Errorf("straight ahead is %d", white)
	}
	same(t, names(t, "."), []string{"Mrs Miller.png", "case.yaml", "p.json", "p.png"})
}

func TestTheNumPyHeaderIsAligned(t *testing.T) {
	for _, n := range []int{1, 3, 12, 100} {
		var b bytes.Buffer
		v := make([]float32, n*n)
		v[n-1] = 2.5
		if err := writeNPY(&b, v, n, n); err != nil {
			t.Fatal(err)
		}
		if a := readNPY(t, b.String()); a.rows != n || a.v[n-1] != 2.5 {
			t.Errorf("%d: %+v", n, a)
		}
	}
}
