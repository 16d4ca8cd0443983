package studio

// sampler gives the numbers of one sample of one pixel. The first pairs are
// spread over the unit square together with those of the pixel's other samples;
// what comes later is plain chance.
type sampler struct {
	state uint64
	pixel uint64 // hash of the pixel and the seed
	index int    // of the sample, below n
	side  int    // n = side x side
	dim   int
}

func scramble(v uint64) uint64 {
	v = (v ^ v>>30) * 0xbf58476d1ce4e5b9
	v = (v ^ v>>27) * 0x94d049bb133111eb
	return v ^ v>>31
}

func newSampler(seed uint64, pixel, index, side int) sampler {
	h := scramble(scramble(seed+0x9e3779b97f4a7c15) + uint64(pixel))
	return sampler{state: scramble(h + uint64(index) + 1), pixel: h, index: index, side: side}
}

// one returns a number in 0 to 1 (splitmix64).
func (s *sampler) one() float64 {
	s.state += 0x9e3779b97f4a7c15
	return float64(scramble(s.state)>>11) / (1 << 53)
}

// spreadPairs is how many pairs are spread over a pixel's samples.
const spreadPairs = 24

// pair returns two numbers in 0 to 1.
func (s *sampler) pair() (u, v float64) {
	u, v = s.one(), s.one()
	if s.dim++; s.dim > spreadPairs {
		return u, v
	}
	h := scramble(s.pixel + uint64(s.dim)*0xd1b54a32d192ed03)
	n := s.side * s.side
	cell := (s.index + int(h%uint64(n))) % n
	// A different order in each pair: rows and columns are moved by hash.
	i, j := cell%s.side, cell/s.side
	i = (i*(1+2*int(h>>20&7)) + j*int(h>>24&7) + int(h>>32&255)) % s.side
	j = (j + int(h>>40&255)) % s.side
	if h>>50&1 == 1 {
		i, j = j, i
	}
	return (float64(i) + u) / float64(s.side), (float64(j) + v) / float64(s.side)
}
