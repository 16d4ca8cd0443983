package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"simview/internal/compare"
	"simview/internal/fieldmask"
)

// fieldSeries says what a teaching series rests on.
type fieldSeries struct {
	Group         string  `json:"group"`
	RateDB        float64 `json:"rate_db_year"`
	Which         string  `json:"which"`
	Median        float64 `json:"median_db_year"`
	FasterQuarter float64 `json:"faster_quarter_db_year"`
	FastestTenth  float64 `json:"fastest_tenth_db_year"`
	Source        string  `json:"source"`
	Assumed       string  `json:"assumed"`
	Pattern       string  `json:"pattern"`
}

// rateWords are the three rates of a group; groupKeys its short names, in the
// order of [fieldmask.RateGroups].
var (
	rateWords = []string{"median", "faster-quarter", "fastest-tenth"}
	groupKeys = []string{"untreated", "treated-city", "treated-clinics"}
)

func groupWords() []string { return groupKeys[:len(fieldmask.RateGroups())] }

// group finds the published group and the rate that is meant.
func (j *fieldJob) group() (g fieldmask.RateGroup, rate float64) {
	g = fieldmask.RateGroups()[slices.Index(groupKeys, j.Group)]
	return g, []float64{g.Median, g.FasterQuarter, g.FastestTenth}[slices.Index(rateWords, j.Rate)]
}

func (j *fieldJob) checkYears() error {
	switch {
	case len(j.YearsY) > maxStrip:
		return usagef("--years: at most %d may be named (got %d)", maxStrip, len(j.YearsY))
	case !slices.Contains(rateWords, j.Rate):
		return usagef("--rate: must be one of %v (got %q)", rateWords, j.Rate)
	case !slices.Contains(groupWords(), j.Group):
		return usagef("--rate-group: must be one of %v (got %q)", groupWords(), j.Group)
	}
	for _, y := range j.YearsY {
		if !within(y, 0, fieldmask.MaxYears) {
			return usagef("--years: must be 0 to %g each (got %g); hint: farther than that no one can say", fieldmask.MaxYears, y)
		}
	}
	return nil
}

// series is what is said of the years; nil without them.
func (j *fieldJob) series() *fieldSeries {
	if len(j.YearsY) == 0 {
		return nil
	}
	g, rate := j.group()
	return &fieldSeries{
		Group: g.Name, RateDB: rate, Which: j.Rate, Median: g.Median, FasterQuarter: g.FasterQuarter, FastestTenth: g.FastestTenth,
		Source: g.Source, Assumed: g.Assumed, Pattern: fieldmask.AfterAssumption,
	}
}

// words are the sentences that go with every picture of a series.
func (s *fieldSeries) words() []string {
	return []string{
		fmt.Sprintf("Teaching series, not a forecast: mean deviation changes by %.2f dB per year, the %s of a published group (%s). Of that group half changed faster than %.2f, a quarter faster than %.2f, a tenth faster than %.2f dB per year. No one knows which rate is this person's.", s.RateDB, strings.ReplaceAll(s.Which, "-", " "), s.Group, s.Median, s.FasterQuarter, s.FastestTenth),
		fmt.Sprintf("Group: %s. Worked out: %s. Assumed of the pattern: %s.", s.Source, s.Assumed, s.Pattern),
	}
}

func (s *fieldSeries) write(w io.Writer) {
	for _, t := range s.words() {
		fmt.Fprintln(w, t)
	}
}

// fields are the fields of the panels beside the reference view.
func (j *fieldJob) fields() (list []compare.FieldAs) {
	if len(j.YearsY) > 0 {
		g, rate := j.group()
		for _, y := range j.YearsY {
			list = append(list, compare.FieldAs{Years: y, Rate: rate, Of: g.Name, Which: j.Rate})
		}
		return list
	}
	list = append(list, compare.FieldAs{Draw: j.Options.FieldDraw, Seed: j.Options.FieldSeed})
	for k := range j.Draws {
		list = append(list, compare.FieldAs{Draw: k + 1, Seed: j.Seed})
	}
	return list
}
