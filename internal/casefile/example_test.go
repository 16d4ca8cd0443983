package casefile_test

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/unit"
)

func ExampleDemo() {
	c, err := casefile.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	eye := c.Eye(c.ComplaintSide())
	at := eye.Implant.Shift()
	fmt.Printf("%s eye, dim pupil %.1f mm, lens shifted to (%.2f, %.2f) mm\n", eye.Side, eye.PupilDimMM.V, at.X, at.Y)
	fmt.Println(c.Eye(unit.Left).Lens, "lens in the other eye")
	// Output:
	// right eye, dim pupil 5.5 mm, lens shifted to (-0.71, 0.71) mm
	// natural lens in the other eye
}

func ExampleParse() {
	text := `title: A slip of the pen
complaint_eye: right
age_years: 60
eyes:
  right: {lens: natural, pupil_dim: 5}
`
	_, _, err := casefile.Parse("slip.yaml", []byte(text), nil)
	fmt.Println(err)
	// Output:
	// slip.yaml:5: eyes.right.pupil_dim: is not a key of a case; hint: did you mean pupil_dim_mm? Every key carries its unit
}
