package raytrace

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"simview/internal/unit"
)

// table reads a file of testdata; its SOURCES.md says how it was made.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return must(csv.NewReader(f).ReadAll())(t)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	return must(strconv.ParseFloat(s, 64))(t)
}

// Paraxial matrices of the optics package of Octave, ten digits: powers near 60 D
// and lengths near 24 mm, so that 1e-8 is what the digits and rounding leave.
func TestParaxialPowersAndFociAgreeWithAnOpticsPackage(t *testing.T) {
	bent := System{
		Name: "bent lens", RetinaZ: 60, Surfaces: []Surface{{At: frameAt(0), RadiusMM: 9.5}, {At: frameAt(.9), RadiusMM: -20}},
		Media: []Medium{{N: 1.336}, {N: 1.49}, {N: 1.336}},
	}
	bench := must(NewImplantEye(BenchSpec(SphericalAberration{})))(t)
	spec := BenchSpec(SphericalAberration{}).Lens
	alone := System{
		Name: "lens alone", RetinaZ: 60, Surfaces: []Surface{{At: frameAt(0), RadiusMM: spec.RadiiMM[0]}, {At: frameAt(1.14), RadiusMM: spec.RadiiMM[1]}},
		Media: []Medium{{N: 1.3375}, {N: spec.Index}, {N: 1.3375}},
	}
	eyes := map[string]System{
		"le-grand": GullstrandLeGrand(), "navarro-1985": Navarro1985(), "escudero-navarro": EscuderoNavarro(),
		"bench-implant-eye": bench.Centred, "bench-implant": alone, "bent-lens": bent,
	}
	rows := table(t, "octave/paraxial.csv")[1:]
	if len(rows) != len(eyes) {
		t.Fatalf("%d rows", len(rows))
	}
	const tol = 1e-8
	for _, row := range rows {
		s, ok := eyes[row[0]]
		if !ok {
			t.Fatalf("no eye %q", row[0])
		}
		p := must(s.Paraxial())(t)
		near(t, row[0]+" power", p.PowerD, number(t, row[1]), tol)
		near(t, row[0]+" focus", p.FocusZ, number(t, row[2]), tol)
	}
}

// Fermat's principle alone, in another language: stationary paths from the retina
// to the pupil, no ray and no law of refraction. Its eight decimals hold to 1e-8
// µm; rays are aimed within 1e-9 mm, where W is up to 15 µm per mm steep: 2e-8
// µm. Paths of 25 mm in 16 digits: 1e-8 µm after some tens of operations.
func TestTheWavefrontOfADisplacedAsphereIsThatOfStationaryPaths(t *testing.T) {
	s := must(NewImplantEye(BenchSpec(SphericalAberration{})))(t).Centred
	s.RetinaZ = 22.9032
	s.Surfaces[1].Conic, s.Surfaces[1].Even, s.Surfaces[2].Conic = -2, []float64{-1.2e-4, 3e-6}, -1
	rows := table(t, "numpy/fermat.csv")
	if len(rows) != 28 {
		t.Fatalf("%d rows", len(rows))
	}
	const tolUM = 1e-7
	for _, row := range rows {
		var v [7]float64
		for i := range v {
			v[i] = number(t, row[i])
		}
		moved := must(s.Moved(1, 2, DisplacedLens{
			Decentration: unit.PupilPoint{X: unit.MM(v[0]), Y: unit.MM(v[1])}, Tilt: unit.Degrees(v[2]), TiltToward: unit.Degrees(v[3]),
		}))(t)
		w := must(moved.PathsAt(moved.OnAxis(), []unit.PupilPoint{{X: unit.MM(v[4]), Y: unit.MM(v[5])}}))(t)
		near(t, "path", float64(w[0]), v[6], tolUM)
	}
}
