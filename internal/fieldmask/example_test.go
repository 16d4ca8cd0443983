//go:build !race

package fieldmask_test

import (
	"fmt"
	"strings"

	"simview/internal/fieldmask"
	"simview/internal/unit"
)

func ExampleReadCSV() {
	text := "x_deg,y_deg,total_deviation_db\n9,9,-1\n-9,9,-14\n-9,-9,0\n9,-9,-2\n"
	meta := fieldmask.Meta{Side: unit.Right, XIs: "as-patient-sees", Pattern: "free", Kind: fieldmask.TotalDeviation}
	f, _, err := fieldmask.ReadCSV(strings.NewReader(text), "field.csv", meta)
	fmt.Println(f.WorstArea(68), err)
	// Output: upper nasal (mean -14.0 dB) <nil>
}

func ExampleSurface() {
	text := "x_deg,y_deg,total_deviation_db\n9,9,-1\n-9,9,-14\n-9,-9,0\n9,-9,-2\n"
	meta := fieldmask.Meta{Side: unit.Right, XIs: "as-patient-sees", Pattern: "free", Kind: fieldmask.TotalDeviation}
	f, _, _ := fieldmask.ReadCSV(strings.NewReader(text), "field.csv", meta)
	s, _ := fieldmask.NewSurface(68, 0, f)
	low, high := s.Interval(-9, 9)
	fmt.Printf("%.0f dB of loss up and to the nose, 90 %% between %.0f and %.0f\n", s.LossDB(-9, 9), low, high)
	fmt.Println("known far out:", s.Known(-25, 9))
	// Output: 9 dB of loss up and to the nose, 90 % between 4 and 15
	// known far out: false
}
