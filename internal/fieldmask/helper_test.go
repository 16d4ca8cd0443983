package fieldmask

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"simview/internal/unit"
)

// pt is a place as the patient sees it.
func pt(x, y float64) unit.SightPoint {
	return unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}
}

// patternField returns a field of a pattern with dB from f.
func patternField(t testing.TB, pattern string, side unit.Side, kind Kind, f func(x, y float64) float64) Field {
	t.Helper()
	at, err := Pattern(pattern, side)
	if err != nil {
		t.Fatal(err)
	}
	out := Field{Side: side, Pattern: pattern, Kind: kind, Source: "made"}
	for i, p := range at {
		out.Points = append(out.Points, Point{p, f(float64(p.X), float64(p.Y)), i + 2})
	}
	return out
}

// realFields reads the open data set: total deviations in right-eye format.
func realFields(t testing.TB, n int) (ages []float64, fields []Field) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/fields/field-24-2-eyes.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	head := strings.Split(lines[0], ",")
	for _, line := range lines[1 : n+1] {
		f := Field{Side: unit.Right, Pattern: "24-2", Kind: TotalDeviation, Source: "real"}
		for i, c := range strings.Split(line, ",") {
			var v, x, y float64
			fmt.Sscan(c, &v)
			if i == 0 {
				ages = append(ages, v)
				continue
			}
			part := strings.Split(head[i], "_")
			fmt.Sscan(part[1], &x)
			fmt.Sscan(part[2], &y)
			f.Points = append(f.Points, Point{At: pt(x, y), DB: v, Line: i})
		}
		fields = append(fields, f)
	}
	return ages, fields
}

func mustSurface(t testing.TB, fields ...Field) *Surface {
	t.Helper()
	s, err := NewSurface(60, 0, fields...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// upperLoss is a field lost above the midline only.
func upperLoss(x, y float64) float64 {
	if y > 0 {
		return -24
	}
	return 0
}
