//go:build !race

package lost_test

import (
	"fmt"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/lost"
	"simview/internal/refraction"
	"simview/internal/render"
	"simview/scenes"
)

// How much of a tide table is lost to an eye that is 1 D short-sighted.
func ExampleSeen_Against() {
	sc, err := scenes.Builtin("tide-table")
	if err != nil {
		panic(err)
	}
	st, err := lost.New(sc, lost.QuickStepDeg, nil)
	if err != nil {
		panic(err)
	}
	look := func(e refraction.PowerVector) *lost.Seen {
		s := eye.State{PupilMM: 3, Light: 1, Glare: light.GlareForAge(60, 0.5)}
		s = s.With(eye.Part{By: "focus", PathUM: e.PathUM})
		p, err := render.PSF(s)
		if err != nil {
			panic(err)
		}
		return st.Look(render.View{Eye: s}, p)
	}
	l, err := look(refraction.Sphere(-1)).Against(look(refraction.Sphere(0)))
	if err != nil {
		panic(err)
	}
	fmt.Println(l.Percent())
	for _, b := range l.Bands[3:] {
		fmt.Printf("%g c/deg: %.0f %%\n", b.CyclesPerDegree, 100*b.Share)
	}
	// Output:
	// 6 %
	// 2 c/deg: 3 %
	// 4 c/deg: 23 %
	// 8 c/deg: 89 %
}

// A share is printed in whole points.
func ExampleLoss_Percent() {
	fmt.Println(lost.Loss{Share: 0.163}.Percent())
	// Output: 16 %
}
