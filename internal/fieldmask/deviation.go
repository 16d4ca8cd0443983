package fieldmask

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/unit"
)

// ToTotalDeviation returns the field as total deviation, the measured sensitivity
// less that of its age norm ([Norm.At]) as in DICOM (0024,0092), Age Corrected
// Sensitivity Deviation Value, without the blind-spot pair. A field that already holds
// deviations keeps them: what the instrument measured comes first.
func (f Field) ToTotalDeviation(ageYears float64) Field {
	out := f
	out.Points = f.tested()
	if f.Kind == TotalDeviation {
		return out
	}
	out.Kind = TotalDeviation
	for i, p := range out.Points {
		out.Points[i].DB = p.DB - float64(f.Norm.At(f.Side, p.At, ageYears))
	}
	return out
}

// MeanDeviation returns the plain mean of the total deviations in dB, negative
// for loss, without the blind-spot pair; the index of instruments (DICOM
// (0024,0066), Global Deviation From Normal: a weighted average) weights by the
// spread of healthy eyes, which no open table gives. The field must hold total
// deviation; otherwise it panics.
func (f Field) MeanDeviation() float64 {
	f.mustBeDeviation()
	pts := f.tested()
	sum := 0.0
	for _, p := range pts {
		sum += p.DB
	}
	return sum / float64(len(pts))
}

// GeneralHeight returns the 85th percentile of the total deviations in dB (the
// seventh best of 52), without the blind-spot pair; negative when even the good
// places are low. The field must hold total deviation; otherwise it panics.
func (f Field) GeneralHeight() float64 {
	f.mustBeDeviation()
	var v []float64
	for _, p := range f.tested() {
		v = append(v, p.DB)
	}
	slices.Sort(v)
	h := 0.85 * float64(len(v)-1)
	i := int(h)
	if i+1 >= len(v) {
		return v[i]
	}
	return v[i] + (h-float64(i))*(v[i+1]-v[i])
}

func (f Field) mustBeDeviation() {
	if f.Kind != TotalDeviation {
		panic("fieldmask: the field must hold total deviation")
	}
}

// MaxOpticsDB is the most that an eye's optics may explain of a field, dB; an
// assumption of simview.
const MaxOpticsDB = 3.0

// OpticsShare returns the part of the general depression, in dB >= 0, that is
// put down to the optics of the eye in the field test when these are expected
// to cost opticsDB: at most [MaxOpticsDB] and never more than the general
// height of any of the fields. One number serves every place and pattern.
func OpticsShare(opticsDB float64, deviations ...Field) unit.PerimetricDB {
	share := math.Min(opticsDB, MaxOpticsDB)
	for _, f := range deviations {
		share = math.Min(share, -f.GeneralHeight())
	}
	return unit.PerimetricDB(math.Max(share, 0))
}

// twiceDB is the cost of the optics in dB beyond their share from which they and
// the field are said to explain the same thing.
const twiceDB = 0.5

// TwiceExplained warns when the optics are expected to cost opticsDB in the field
// test, the field is depressed by more than the share that was taken out for
// them, and the rest would be shown twice: as optics and as lost field.
func TwiceExplained(opticsDB float64, deviations ...Field) (Warning, bool) {
	share := float64(OpticsShare(opticsDB, deviations...))
	both := opticsDB
	for _, f := range deviations {
		both = math.Min(both, -f.GeneralHeight())
	}
	if len(deviations) == 0 || both-share <= twiceDB {
		return "", false
	}
	return Warning(fmt.Sprintf("optics and field explain the same thing twice: the optics should cost %.1f dB in the field test and the whole field is lower by at least %.1f dB, but at most %.1f dB are put down to them; the other %.1f dB are shown as blur or haze and as lost field", opticsDB, both, MaxOpticsDB, both-share)), true
}

// NeuralLoss returns the loss of one place in dB >= 0:
//
//	loss = max(0, -TD - share)
func NeuralLoss(totalDeviationDB float64, share unit.PerimetricDB) float64 {
	return math.Max(0, -totalDeviationDB-float64(share))
}
