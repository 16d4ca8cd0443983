package sweep_test

import (
	"fmt"

	"simview/internal/sweep"
)

func ExampleAxes_Cells() {
	a := sweep.Axes{
		Scenes: []string{"letters"}, Eyes: []string{"right"}, GazesDeg: []sweep.Gaze{{0, 0}, {4, -5}},
		Severities: []sweep.Severity{{Cause: "lens", Strengths: []float64{0, 1}}},
	}
	for _, c := range a.Cells() {
		fmt.Println(c.File)
	}
	// Output:
	// letters_right_lens0_gaze0_0.png
	// letters_right_lens0_gaze4_-5.png
	// letters_right_lens1_gaze0_0.png
	// letters_right_lens1_gaze4_-5.png
}

func ExamplePart_Of() {
	for k := 1; k <= 3; k++ {
		fmt.Println(len(sweep.Part{K: k, N: 3}.Of(make([]sweep.Cell, 10))))
	}
	// Output:
	// 3
	// 3
	// 4
}
