package zernike_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"simview/internal/zernike"
)

// The optics package of Octave prints ten decimals; values and slopes of order 8
// reach 100 there.
const tolOctave = 1e-9

// TestPolynomialsAndSlopesAgreeWithAnOpticsPackage at five places to order 8;
// testdata/octave/SOURCES.md says how they were made.
func TestPolynomialsAndSlopesAgreeWithAnOpticsPackage(t *testing.T) {
	f, err := os.Open("../../testdata/octave/zernike.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 1+5*zernike.Count(8) {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		var v [6]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		j := int(v[0])
		near(t, "value", zernike.PolyXY(j, v[1], v[2]), v[3], tolOctave)
		n, m := zernike.NM(j)
		dx, dy := zernike.Terms{RadiusMM: 1}.With(n, m, 1).SlopeUMPerMM(v[1], v[2])
		near(t, "slope along x", dx, v[4], tolOctave)
		near(t, "slope along y", dy, v[5], tolOctave)
	}
}
