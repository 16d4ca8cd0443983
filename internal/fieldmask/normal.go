package fieldmask

import (
	_ "embed"
	"math"
	"strings"

	"simview/internal/unit"
)

//go:embed normal-24-2.csv
var normalTable string

// NormalSource names the age norm in reports.
const NormalSource = "age norm worked out from an open set of 24-2 fields (Montesano and others 2022), 1 to 2 dB high; beyond its places continued by an assumed shape"

// Norm is a table of age-normal sensitivities and how it is continued beyond its
// places; a nil Norm is the built-in one.
type Norm struct {
	rows   []normalRow
	Source string // file name or words, for reports
}

// Name returns where the norm comes from.
func (n *Norm) Name() string {
	if n == nil {
		return NormalSource
	}
	return n.Source
}

// At returns the age-normal sensitivity in dB at a place, for an age in 0 to 120
// years: at the places of the table the table; elsewhere an assumed smooth hill
//
//	H = 33.5 - 0.20 r - 0.003 r² - 0.05 max(y, 0) - (0.04 + 0.0012 r)(A - 45)
//
// raised by the table's distance from that hill, smoothed over the places near
// by, so that it passes close to the table and keeps its own shape beyond it.
// That is how the table of 24-2 serves 30-2 and 10-2 (an assumption).
func (n *Norm) At(side unit.Side, at unit.SightPoint, ageYears float64) unit.PerimetricDB {
	rows := normalRows
	if n != nil {
		rows = n.rows
	}
	x, y := float64(at.X)*temple(side), float64(at.Y)
	sum, weight := 0.0, 0.0
	for _, row := range rows {
		d2 := (row.x-x)*(row.x-x) + (row.y-y)*(row.y-y)
		db := row.at0 + row.perYear*ageYears
		if d2 == 0 {
			return unit.PerimetricDB(db)
		}
		w := 1 / (d2 * d2)
		sum += w * (db - hill(row.x, row.y, ageYears))
		weight += w
	}
	return unit.PerimetricDB(hill(x, y, ageYears) + sum/weight)
}

// Normal returns the sensitivity that the built-in norm ([NormalSource])
// expects: the table of an open data set at the 52 places of 24-2, continued as
// [Norm.At] says.
func Normal(side unit.Side, at unit.SightPoint, ageYears float64) unit.PerimetricDB {
	return (*Norm)(nil).At(side, at, ageYears)
}

// hill is the assumed shape H of [Norm.At], dB; r is the distance from fixation.
func hill(x, y, age float64) float64 {
	r := math.Hypot(x, y)
	return 33.5 - 0.20*r - 0.003*r*r - 0.05*math.Max(y, 0) - (0.04+0.0012*r)*(age-45)
}

// normalRow is one place of the table in right-eye format.
type normalRow struct{ x, y, at0, perYear float64 }

var normalRows = mustNormal(normalTable)

// mustNormal reads the embedded table; a fault in it is a fault of the build.
func mustNormal(text string) []normalRow {
	n, err := ReadNorm(strings.NewReader(text), "built-in norm")
	if err != nil {
		panic("fieldmask: " + err.Error())
	}
	return n.rows
}
