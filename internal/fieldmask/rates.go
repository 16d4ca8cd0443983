package fieldmask

// RateGroup is how fast the mean deviation of a published group of people with
// glaucoma fell, in dB per year, negative for worse.
type RateGroup struct {
	Name          string
	Median        float64 // half of the group was faster
	FasterQuarter float64 // a quarter was faster
	FastestTenth  float64 // a tenth was faster
	Source        string
	Assumed       string // what of the three is not printed in the source
}

// rateGroups are the groups of [RateGroups]. From the printed numbers of each,
// the quantiles q are those of a lognormal rate of loss, shifted where three
// numbers are printed,
//
//	q = -(exp(m + s z) - t),  z = 0.6745 or 1.2816
//
// and of a normal one for Chauhan2014.
var rateGroups = []RateGroup{
	{
		"untreated", -0.40, -1.14, -2.63,
		"Heijl2009: 118 untreated eyes, median -0.40, interquartile range 1.05, mean -1.08 dB per year",
		"quarter and tenth: shifted lognormal through the three printed numbers",
	},
	{
		"treated, one city", -0.62, -1.00, -1.55,
		"Heijl2013: treated eyes of one city, median -0.62, mean -0.80 dB per year (from memory)",
		"quarter and tenth: lognormal through median and mean",
	},
	{
		"treated, clinics of one country", -0.05, -0.42, -0.75,
		"Chauhan2014: treated eyes, median about -0.05, about 4 % faster than -1 dB per year (from memory)",
		"quarter and tenth: normal through median and share",
	},
}

// RateGroups returns the published groups, untreated first. They describe
// groups; no one knows which rate is a given person's.
func RateGroups() []RateGroup { return append([]RateGroup(nil), rateGroups...) }
