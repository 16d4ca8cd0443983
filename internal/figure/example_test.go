package figure_test

import (
	"bytes"
	"fmt"

	"simview/internal/figure"
)

// Two causes and how sure their shares are.
func ExampleBars() {
	var picture bytes.Buffer
	err := figure.Bars{Title: "Shares", Unit: "logMAR", Rows: []figure.Bar{
		{"lens", 0.2, 0.1, 0.3, 0.05, 0.35}, {"field", 0.03, 0.02, 0.04, -0.01, 0.07},
	}}.Write(&picture)
	fmt.Println(err, picture.Len() > 1000)
	// Output: <nil> true
}

// A curve on logarithmic axes.
func ExampleLines() {
	var picture bytes.Buffer
	err := figure.Lines{Title: "Contrast sensitivity", LogX: true, LogY: true, Curves: []figure.Line{
		{Name: "as it is", X: []float64{1, 3, 10}, Y: []float64{40, 60, 5}},
	}}.Write(&picture)
	fmt.Println(err, picture.Len() > 1000)
	// Output: <nil> true
}
