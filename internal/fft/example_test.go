package fft_test

import (
	"fmt"

	"simview/internal/fft"
)

func ExampleGoodSize() {
	fmt.Println(fft.GoodSize(1023), fft.GoodSize(1025))
	// Output: 1024 1080
}

// The half spectrum of an image 4 wide and 2 high has 2 rows of 3.
func ExampleReal2D() {
	p, err := fft.NewReal2D(4, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	f := p.Forward(nil, []float32{1, 0, 0, 0, 0, 0, 0, 0})
	fmt.Println(len(f), f[0])
	fmt.Println(p.Inverse(nil, f))
	// Output:
	// 6 (1+0i)
	// [1 0 0 0 0 0 0 0]
}
