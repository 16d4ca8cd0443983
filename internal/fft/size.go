package fft

// GoodSize returns the smallest even number 2^a 3^b 5^c, a >= 1, that is not
// below n; for n <= 2 it is 2. Lines of such a length transform fast.
func GoodSize(n int) int {
	m := max(n, 2)
	if m%2 == 1 {
		m++
	}
	for !smooth(m) {
		m += 2
	}
	return m
}

// smooth reports whether n has no prime factor above 5.
func smooth(n int) bool {
	for _, p := range [...]int{2, 3, 5} {
		for n%p == 0 {
			n /= p
		}
	}
	return n == 1
}
