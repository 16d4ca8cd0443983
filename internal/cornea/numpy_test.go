package cornea

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"testing"
)

// An invented cone against what numpy and scipy make of the same file: conic by
// their least squares, path by Snell's law written anew, terms over the file's own
// places instead of a finer mesh. The two meshes weigh the rim differently, and
// what no term takes up leaks into the terms accordingly.
func TestAConeHasTheTermsThatNumpyFinds(t *testing.T) {
	const (
		radiusTol = 1e-3 // mm: 0.05 D
		qTol      = 0.005
		tol       = 0.004 // µm, where the largest term is 0.31
	)
	dir := "../../testdata/cornea/"
	m, err := os.Open(dir + "cone.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	f, err := ReadMap(m, "cone.csv", Grid, Height)
	if err != nil {
		t.Fatal(err)
	}
	want := answers(t, dir+"cone-answer.csv")
	close(t, "radius", f.Best.RadiusMM, want["radius_mm"], radiusTol)
	close(t, "Q", f.Best.Q, want["q"], qTol)
	close(t, "disc", f.RadiusMM, want["disc_mm"], 1e-6)
	largest := 0.0
	for n := 3; n <= 6; n++ {
		for k := -n; k <= n; k += 2 {
			name := fmt.Sprintf("c%d_%d_um", n, k)
			w, ok := want[name]
			if !ok {
				t.Fatalf("no answer for %s", name)
			}
			close(t, name, f.Terms.At(n, k), w, tol)
			largest = max(largest, w, -w)
		}
	}
	if largest < 0.3 {
		t.Errorf("the largest term is %.3f µm: the test sees nothing", largest)
	}
}

func answers(t *testing.T, name string) map[string]float64 {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for _, r := range rows[1:] {
		if out[r[0]], err = strconv.ParseFloat(r[1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return out
}
