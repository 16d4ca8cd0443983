package fieldmask

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// seenOf returns the measurements of one field in total deviation, x to the
// temple.
func seenOf(td Field, ageYears float64) []seen {
	var out []seen
	for _, p := range td.tested() {
		out = append(out, seen{
			x: float64(p.At.X) * temple(td.Side), y: float64(p.At.Y),
			td: p.DB, normal: float64(td.Norm.At(td.Side, p.At, ageYears)), tests: td.Tests,
		})
	}
	for i := range out {
		out[i].spacing = math.Inf(1)
		for j := range out {
			if i != j {
				out[i].spacing = math.Min(out[i].spacing, math.Hypot(out[i].x-out[j].x, out[i].y-out[j].y))
			}
		}
	}
	return out
}

// merge joins the fields of one eye in total deviation. Where a finer pattern
// tested, places of coarser ones inside its outline are dropped; everything else
// counts together, so that the two join without a seam.
// A place that two fields of the same fineness tested is their mean. It also
// returns the outline of each field.
func merge(ageYears float64, fields []Field) (all []seen, hulls []hull, err error) {
	var sets [][]seen
	for _, f := range fields {
		if f.Side != fields[0].Side {
			return nil, nil, fmt.Errorf("field: %s is of the %s eye and %s of the %s; merge fields of one eye only", fields[0].Source, fields[0].Side, f.Source, f.Side)
		}
		if err := f.Check(); err != nil {
			return nil, nil, err
		}
		sets = append(sets, seenOf(f.ToTotalDeviation(ageYears), ageYears))
	}
	slices.SortStableFunc(sets, func(a, b []seen) int { return cmp.Compare(medianSpacing(a), medianSpacing(b)) })
	for _, set := range sets {
		for _, s := range set {
			if i := slices.IndexFunc(all, func(o seen) bool { return o.x == s.x && o.y == s.y }); i >= 0 {
				all[i] = joined(all[i], s)
			} else if !slices.ContainsFunc(hulls, func(h hull) bool { return h.distance(s.x, s.y) <= 0 }) {
				all = append(all, s)
			}
		}
		hulls = append(hulls, newHull(set))
	}
	if len(all) > maxPlaces {
		return nil, nil, fmt.Errorf("field: %d places; at most %d can be drawn together", len(all), maxPlaces)
	}
	return all, hulls, nil
}

// joined is the mean of two measurements of one place, weighted by their tests;
// one from a coarser pattern gives way.
func joined(fine, other seen) seen {
	if other.spacing > 1.5*fine.spacing {
		return fine
	}
	n, m := max(fine.tests, 1), max(other.tests, 1)
	fine.td = (fine.td*float64(n) + other.td*float64(m)) / float64(n+m)
	fine.tests = n + m
	return fine
}

// medianSpacing is the median distance from a place to its nearest neighbour.
func medianSpacing(set []seen) float64 {
	var d []float64
	for _, s := range set {
		d = append(d, s.spacing)
	}
	slices.Sort(d)
	return d[len(d)/2]
}
