package fieldmask

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

//go:embed prior-24-2.csv
var priorTable string

//go:embed prior-levels.csv
var levelTable string

// PriorSource names, in reports, what the surface between tested places was
// learned from.
const PriorSource = "covariance of loss between places learned from 505 eyes of an open set of 24-2 fields (Montesano and others 2022), rows 1 to 740"

// places52 is the number of places of 24-2 without the pair at the blind spot.
const places52 = 52

// prior is what real fields taught: mean and covariance of total deviation at
// the places of 24-2, in dB and dB², x to the temple.
type prior struct {
	at   [][2]float64
	mean []float64
	cov  [][]float64
	m0   float64 // mean over the places, dB
}

// levelRow says how far an estimate of total deviation may be off, in standard
// errors: 5 % of the truth lies further below, 5 % further above.
type levelRow struct{ level, below, above float64 }

var (
	learned = mustPrior(priorTable)
	levels  = mustLevels(levelTable)
)

// mustTable reads an embedded table of numbers below comments and a header; a
// fault in it is a fault of the build.
func mustTable(text string, columns int) [][]float64 {
	var rows [][]float64
	take := func(_ int, text string) error {
		cells := strings.Split(text, ",")
		if len(cells) != columns {
			return fmt.Errorf("%d columns, expected %d", len(cells), columns)
		}
		row := make([]float64, columns)
		for i, c := range cells {
			var err error
			if row[i], err = strconv.ParseFloat(c, 64); err != nil {
				return err
			}
		}
		rows = append(rows, row)
		return nil
	}
	header := func(string) error { return nil }
	if _, err := (tableReader{noComment, header, take}).read(strings.NewReader(text), "embedded table"); err != nil {
		panic("fieldmask: " + err.Error())
	}
	return rows
}

func mustPrior(text string) prior {
	var p prior
	for _, r := range mustTable(text, 3+places52) {
		p.at = append(p.at, [2]float64{r[0], r[1]})
		p.mean = append(p.mean, r[2])
		p.cov = append(p.cov, r[3:])
		p.m0 += r[2] / places52
	}
	return p
}

func mustLevels(text string) []levelRow {
	var out []levelRow
	for _, r := range mustTable(text, 3) {
		out = append(out, levelRow{r[0], r[1], r[2]})
	}
	return out
}

// spreadAt returns how many standard errors an estimate of total deviation may
// lie too high (below) and too low (above), for 5 % each, read between the rows
// of the table and held at its ends.
func spreadAt(td float64) (below, above float64) {
	first, last := levels[0], levels[len(levels)-1]
	if td <= first.level {
		return first.below, first.above
	}
	for i, b := range levels[1:] {
		if a := levels[i]; td <= b.level {
			t := (td - a.level) / (b.level - a.level)
			return a.below + t*(b.below-a.below), a.above + t*(b.above-a.above)
		}
	}
	return last.below, last.above
}

// z90 is the half-width of the middle 90 % of a normal distribution, in standard
// deviations.
const z90 = 1.6449

// ruggedness is the spread at a level against that of the learned covariance:
// below 1 where little is lost or everything, above 1 between.
func ruggedness(td float64) float64 {
	below, above := spreadAt(td)
	return (below + above) / 2 / z90
}
