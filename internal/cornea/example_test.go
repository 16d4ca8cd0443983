package cornea_test

import (
	"fmt"

	"simview/internal/cornea"
)

// What a rigid lens leaves of the irregularity under it.
func ExampleRigidShare() {
	share, err := cornea.RigidShare(cornea.CorneaIndex, cornea.TearIndex)
	fmt.Printf("%.1f %%, %v\n", 100*share, err)
	// Output: 10.6 %, <nil>
}

// A fine scar: most of it is left when a wavefront of order 6 is taken out.
func ExampleSurface_Split() {
	s, err := cornea.NewSurface(cornea.Irregularity{
		RMSUM: 0.5, GrainMM: 0.3, ZoneRadiusMM: 2, Seed: 1, Kind: cornea.Grain,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	all, _ := s.Split(2, 0, 555)
	rest, err := s.Split(2, 6, 555)
	fmt.Println(rest.RMSUM > 0.7*all.RMSUM, err)
	// Output: true <nil>
}
