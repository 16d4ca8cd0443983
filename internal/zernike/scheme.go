package zernike

import "fmt"

// FringeTerms is the number of terms of the Fringe set.
const FringeTerms = 37

// MaxSingleIndex is the highest single index accepted from a file, in any
// scheme: radial order 100. Beyond it an index is taken for a slip of the pen.
const MaxSingleIndex = 5150

// FromNoll returns the OSA index j of Noll's index i, counted from 1. The
// coefficient is unchanged, both sets are orthonormal. An index below 1 is an
// error. Source: Noll, J Opt Soc Am 1976;66:207: within an order |m| rises, even
// i are cosines.
func FromNoll(i int) (j int, err error) {
	if i < 1 || i > MaxSingleIndex+1 {
		return 0, fmt.Errorf("zernike: Noll index %d: expected 1 to %d", i, MaxSingleIndex+1)
	}
	n := 0
	for Count(n) < i {
		n++
	}
	k := i - Count(n-1) - 1
	m := k + (k+n)%2
	if i%2 == 1 {
		m = -m
	}
	return Index(n, m), nil
}

// ToNoll returns Noll's index i, counted from 1, of the OSA index j >= 0.
func ToNoll(j int) (i int) {
	n, m := NM(j)
	i = Count(n-1) + abs(m)
	sine := n%4 == 0 || n%4 == 1
	if m == 0 || (m < 0) == sine {
		i++
	}
	return i
}

// FromFringe returns the OSA index j of Fringe index i, 1 to 37, and the
// normalisation N by which a Fringe coefficient must be divided, since Fringe
// terms have a peak of 1. Anything else is an error.
//
//	c_OSA = c_Fringe / N
func FromFringe(i int) (j int, norm float64, err error) {
	if i < 1 || i > FringeTerms {
		return 0, 0, fmt.Errorf("zernike: Fringe index %d: expected 1 to %d", i, FringeTerms)
	}
	for j = 0; ; j++ {
		if f, err := ToFringe(j); err == nil && f == i {
			n, m := NM(j)
			return j, Norm(n, m), nil
		}
	}
}

// ToFringe returns the Fringe index, 1 to 37, of the OSA index j >= 0, or an
// error when the term is not one of the Fringe set.
//
//	i = (1 + (n+|m|)/2)² - 2|m| + (1 if m < 0),  and 37 is (12,0)
func ToFringe(j int) (i int, err error) {
	n, m := NM(j)
	if n == 12 && m == 0 {
		return FringeTerms, nil
	}
	q := 1 + (n+abs(m))/2
	if q > 6 {
		return 0, fmt.Errorf("zernike: term j=%d (%d,%d) is not one of the %d Fringe terms: give it by OSA index or as n,m", j, n, m, FringeTerms)
	}
	i = q*q - 2*abs(m)
	if m < 0 {
		i++
	}
	return i, nil
}

// FromScheme turns a coefficient c (any unit) given with a single index of the
// named scheme ("osa", "noll" or "fringe") into the OSA index j and the
// coefficient of the orthonormal term. Another name or an index that the scheme
// does not have is an error.
func FromScheme(scheme string, index int, c float64) (j int, cOSA float64, err error) {
	switch scheme {
	case "osa":
		if index < 0 || index > MaxSingleIndex {
			return 0, 0, fmt.Errorf("zernike: OSA index %d: expected 0 to %d", index, MaxSingleIndex)
		}
		return index, c, nil
	case "noll":
		j, err = FromNoll(index)
		return j, c, err
	case "fringe":
		j, norm, err := FromFringe(index)
		if err != nil {
			return 0, 0, err
		}
		return j, c / norm, nil
	}
	return 0, 0, fmt.Errorf("zernike: index scheme %q: expected osa, noll or fringe; say which one the instrument writes", scheme)
}
