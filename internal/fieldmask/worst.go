package fieldmask

import "fmt"

// standsOut is the difference in dB between the worst quarter of a field and
// the mean of the others from which it is named.
const standsOut = 1.0

// WorstArea names the quarter of the field with the most loss, in words for the
// clinician to confirm: "upper nasal (mean -12.3 dB)", or "no quarter stands
// out" when it lies less than 1 dB below the mean of the others. The age is used
// when the field holds sensitivities.
func (f Field) WorstArea(ageYears float64) string {
	names := [4]string{"upper temporal", "upper nasal", "lower temporal", "lower nasal"}
	var sum, n [4]float64
	for _, p := range f.ToTotalDeviation(ageYears).Points {
		q := 0
		if float64(p.At.X)*temple(f.Side) < 0 {
			q++
		}
		if p.At.Y < 0 {
			q += 2
		}
		sum[q] += p.DB
		n[q]++
	}
	worst := -1
	for q := range sum {
		if n[q] > 0 && (worst < 0 || sum[q]/n[q] < sum[worst]/n[worst]) {
			worst = q
		}
	}
	mean := sum[worst] / n[worst]
	rest, m := sum[0]+sum[1]+sum[2]+sum[3]-sum[worst], n[0]+n[1]+n[2]+n[3]-n[worst]
	if m > 0 && rest/m-mean < standsOut {
		return "no quarter stands out"
	}
	return fmt.Sprintf("%s (mean %.1f dB)", names[worst], mean)
}
