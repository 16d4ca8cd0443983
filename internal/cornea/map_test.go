package cornea

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// depthMM is a surface: mm below the vertex at (x, y) mm.
type depthMM func(x, y float64) float64

func conicDepth(r, q float64) depthMM {
	return func(x, y float64) float64 {
		z, _ := Conic{RadiusMM: r, Q: q}.sag(math.Hypot(x, y))
		return z
	}
}

// axialMM is the axial radius of a conic, R √(1 - Q ρ²/R²): the distance along the
// normal from the surface to the axis (any textbook on corneal topography).
func axialMM(r, q float64) func(rho float64) float64 {
	return func(rho float64) float64 { return math.Sqrt(r*r - q*rho*rho) }
}

// gridCSV writes value at the nodes of a grid, rounded to a nanometre or to 1e-6.
func gridCSV(column string, halfMM, step float64, value depthMM) string {
	var b strings.Builder
	fmt.Fprintf(&b, "x_mm,y_mm,%s\n", column)
	n := int(math.Round(halfMM / step))
	for j := -n; j <= n; j++ {
		for i := -n; i <= n; i++ {
			x, y := float64(i)*step, float64(j)*step
			fmt.Fprintf(&b, "%.4f,%.4f,%.6f\n", x, y, value(x, y))
		}
	}
	return b.String()
}

func radialCSV(column string, edgeMM, step float64, angles int, value depthMM) string {
	var b strings.Builder
	fmt.Fprintf(&b, "ring_mm,angle_deg,%s\n", column)
	for i := 1; i <= int(math.Round(edgeMM/step)); i++ {
		for j := range angles {
			r, a := float64(i)*step, 360*float64(j)/float64(angles)
			sin, cos := math.Sincos(a * math.Pi / 180)
			fmt.Fprintf(&b, "%.4f,%.6f,%.6f\n", r, a, value(r*cos, r*sin))
		}
	}
	return b.String()
}

func readMap(t *testing.T, csv string, l Layout, q Quantity) *Front {
	t.Helper()
	f, err := ReadMap(strings.NewReader(csv), "map.csv", l, q)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func close(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, tol)
	}
}

// A map of a conic gives its radius, its Q and its spherical aberration back, in
// every layout, quantity and unit. c(4,0) at 6 mm of the exact trace: computed
// by a separate program, stated to 5e-4 µm.
func TestAMapOfAConicGivesItsSphericalAberrationBack(t *testing.T) {
	const (
		radiusTol = 2e-4 // mm: 0.01 D
		qTol      = 2e-3 // 0.0012 µm of c(4,0) at 6 mm
		c40Tol    = 1e-3 // µm: the table's 5e-4 and as much for the map
		fineTol   = 1e-3 // µm: nothing is left for the map
	)
	for _, k := range []struct{ r, q, c40 float64 }{{7.8, -.26, .1790}, {7.8, 0, .3648}, {7.77, -.18, .2378}} {
		um := func(x, y float64) float64 { return -1000 * conicDepth(k.r, k.q)(x, y) }
		mm := func(x, y float64) float64 { return axialMM(k.r, k.q)(math.Hypot(x, y)) }
		d := func(x, y float64) float64 { return 337.5 / mm(x, y) }
		for name, f := range map[string]*Front{
			"grid height":      readMap(t, gridCSV("height_um", 4, .2, um), Grid, Height),
			"grid dioptres":    readMap(t, gridCSV("curvature_d", 4, .2, d), Grid, Curvature),
			"grid radius":      readMap(t, gridCSV("curvature_mm", 4, .2, mm), Grid, Curvature),
			"radial height":    readMap(t, radialCSV("height_um", 4, .2, 36, um), Radial, Height),
			"radial dioptres":  readMap(t, radialCSV("curvature_d", 4, .2, 36, d), Radial, Curvature),
			"radial, uncommon": readMap(t, radialCSV("curvature_mm", 4.2, .3, 20, mm), Radial, Curvature),
		} {
			name = fmt.Sprintf("%s, R %g, Q %g: ", name, k.r, k.q)
			close(t, name+"radius", f.Best.RadiusMM, k.r, radiusTol)
			close(t, name+"Q", f.Best.Q, k.q, qTol)
			w, err := f.Terms.Scale(3)
			if err != nil {
				t.Fatal(err)
			}
			close(t, name+"c40", w.At(4, 0), k.c40, c40Tol)
			close(t, name+"other terms", w.With(4, 0, 0).RMSOrders(3, 4), 0, fineTol)
			close(t, name+"fine structure", f.Fine.RMSUM, 0, fineTol)
		}
	}
}

// A surface z = x²/2Rx + y²/2Ry has the astigmatism of its two radii:
// W = (n - 1) z, so c(2,2) = 1000 (n - 1) a² (1/Rx - 1/Ry) / (4 √6) µm. The steeper
// x makes it positive: too strong in the horizontal meridian.
func TestAMapOfAToricSurfaceGivesTheAstigmatismOfItsRadii(t *testing.T) {
	const tol = .01 // µm: 0.01 D at 6 mm; the oblique path on a sloping surface is left out
	um := func(x, y float64) float64 { return -1000 * (x*x/2/7.6 + y*y/2/7.9) }
	f := readMap(t, gridCSV("height_um", 4, .2, um), Grid, Height)
	w, err := f.Terms.Scale(3)
	if err != nil {
		t.Fatal(err)
	}
	close(t, "c22", w.At(2, 2), 1000*.376*9*(1/7.6-1/7.9)/(4*math.Sqrt(6)), tol)
	close(t, "c2-2", w.At(2, -2), 0, 1e-6)
}

// Both layouts count from the clinician's right and upwards: a surface without any
// symmetry gives the same terms. 5e-4 µm: rounding of the files is 1e-6, what
// both miss between places is far below.
func TestBothLayoutsGiveTheSameTermsOfALopsidedSurface(t *testing.T) {
	const tol = 5e-4
	um := func(x, y float64) float64 {
		return -1000*conicDepth(7.8, -.2)(x, y) + .3*x*(x*x+y*y) - .1*y*y*y + .4*x*y
	}
	a, err := readMap(t, gridCSV("height_um", 4, .2, um), Grid, Height).Terms.Scale(3)
	if err != nil {
		t.Fatal(err)
	}
	b, err := readMap(t, radialCSV("height_um", 4, .2, 36, um), Radial, Height).Terms.Scale(3)
	if err != nil {
		t.Fatal(err)
	}
	d, err := a.Sub(b)
	if err != nil {
		t.Fatal(err)
	}
	close(t, "difference", d.RMSOrders(2, 6), 0, tol)
	// 0.3 µm x r² = 0.3 a³ ρ³ cos θ holds c(3,1) = 0.3 a³ / (3 √8) of height, and a
	// hill delays; the y³ is 3/4 coma and 1/4 trefoil and has c(3,1) = 0.
	close(t, "c31", a.At(3, 1), -.376*.3*27/(3*math.Sqrt(8)), tol)
	close(t, "c3-1", a.At(3, -1), .376*.1*.75*27/(3*math.Sqrt(8)), tol)
}

// A hill towards the observer delays light, W = -(n - 1) h, on the side where it
// lies: here up and to the clinician's right. Its waves are too fine for terms
// and stay in the map.
func TestFineStructureStaysInTheMapWhereItLies(t *testing.T) {
	const wave = .8
	um := func(x, y float64) float64 {
		return -1000*conicDepth(7.8, -.2)(x, y) + .5*math.Cos(2*math.Pi*x/wave)*math.Exp(-((x-1)*(x-1)+(y-1)*(y-1))/.5)
	}
	f := readMap(t, gridCSV("height_um", 4, .05, um), Grid, Height)
	for _, p := range [][2]float64{{.8, 1}, {1.2, 1}, {.8, .6}, {-.8, -1}, {-.8, 1}, {.8, -1}} {
		want := -.376 * (um(p[0], p[1]) + 1000*conicDepth(7.8, -.2)(p[0], p[1]))
		usual := f.Best.terms(f.RadiusMM)
		got := f.PathUM(p[0], p[1]) - usual.Keep(3, 8).PathUM(p[0], p[1])
		close(t, fmt.Sprintf("path at %v", p), got, want, .012) // the fit's low orders take up to 0.01 µm of 0.19
	}
	if f.Fine.RMSUM < .01 {
		t.Errorf("fine structure of %.4f µm", f.Fine.RMSUM)
	}
}

func TestAMapThatCannotBeUsedIsRefusedInWords(t *testing.T) {
	good := func(x, y float64) float64 { return -1000 * conicDepth(7.8, -.2)(x, y) }
	grid := gridCSV("height_um", 3, .2, good)
	radial := radialCSV("height_um", 3, .2, 36, good)
	scaled := func(k float64) depthMM { return func(x, y float64) float64 { return k * good(x, y) } }
	cut := func(s, line string) string { return strings.Replace(s, line, "", 1) }
	line := strings.SplitAfter(grid, "\n")[31*15+15]
	ring := strings.SplitAfter(radial, "\n")[50]
	for want, c := range map[string]struct {
		csv string
		l   Layout
		q   Quantity
	}{
		"map.csv:1: the first line must be":              {grid, Grid, Curvature},
		`"ring_mm,angle_deg,height_um" (got "x_mm,y_mm,`: {grid, Radial, Height},
		"no value at": {cut(grid, line), Grid, Height},
		"a map with holes cannot be used: leave out":    {cut(radial, ring), Radial, Height},
		"map.csv:17: height_um must be a finite number": {strings.Replace(grid, strings.SplitAfter(grid, "\n")[16], "0,0,\n", 1), Grid, Height},
		"stands already in line":                        {grid + line, Grid, Height},
		"stands twice":                                  {radial + ring, Radial, Height},
		"at least 3 mm are needed":                      {gridCSV("height_um", 1.4, .1, good), Grid, Height},
		"places; a map needs at least":                  {"x_mm,y_mm,height_um\n0,0,1\n", Grid, Height},
		"(got 7.8); it looks like a radius in mm; then the column is curvature_mm": {gridCSV("curvature_d", 3, .2, func(x, y float64) float64 { return 7.8 }), Grid, Curvature},
		"not above a sphere; these look like mm":                                   {gridCSV("height_um", 3, .2, scaled(.001)), Grid, Height},
		"not above a sphere; these look like heights above a sphere":               {gridCSV("height_um", 3, .2, func(x, y float64) float64 { return 5 * x * y }), Grid, Height},
		"not above a sphere; these look positive away from":                        {gridCSV("height_um", 3, .2, scaled(-1)), Grid, Height},
		"no conic fits the map":                                                    {radialCSV("curvature_d", 7, .2, 36, func(x, y float64) float64 { return 90 }), Radial, Curvature},
		"evenly spaced by the same step":                                           {strings.Replace(grid, "0.2000,", "0.2300,", 1), Grid, Height},
		"even steps of a whole turn":                                               {radialCSV("height_um", 3, .2, 8, good), Radial, Height},
		"curvature_mm must lie between 3.3 and 17 (got 42); it looks like dioptres; then the column is curvature_d": {gridCSV("curvature_mm", 3, .2, func(x, y float64) float64 { return 42 }), Grid, Curvature},
		"2 values; expected 3 (x_mm,y_mm,height_um)":                                                                {grid + "1,2\n", Grid, Height},
		"height_um must lie between -5000 and 5000 (got -1":                                                         {gridCSV("height_um", 3, .2, scaled(100)), Grid, Height},
		"x_mm must lie between -8 and 8 (got 1000); is it in an":                                                    {grid + "1000,0,0\n", Grid, Height},
	} {
		f, err := ReadMap(strings.NewReader(c.csv), "map.csv", c.l, c.q)
		if err == nil || f != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}
