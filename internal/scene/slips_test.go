package scene

import (
	"runtime"
	"strings"
	"testing"
)

// slip is one mistake in a scene file: what is replaced in whole, by what, the
// full message, and whether an editor that knows the schema sees it too.
type slip struct {
	old, wrong, want string
	schemaToo        bool
}

// whole1 is a complete scene with one of most things.
const whole1 = `title: A quay
good_for: Trying.
distance_m: 4
width_deg: 10
height_deg: 8
adapt_cdm2: 1
surround_cdm2: 0.5
pupil: dim
window: {x_deg: 0, y_deg: 0, width_deg: 4, height_deg: 3}
lamps:
  - {name: buoy, at: [1, 0], lux: 0.001, diameter_arcmin: 1}
parts:
  stone:
    - rect: {at: [0, 0], size: [1, 1], cdm2: 3}
shapes:
  - rect: {at: [-5, -4], size: [10, 4], cdm2: 2, fade: {cdm2: 3, from: [0, -4], to: [0, 0]}}
  - use: {part: stone, at: [0, 0], count: 3, step: [1.2, 0]}
  - text: {lines: ["Quay"], at: [0, 1], logmar: 0.5, cdm2: 9}
  - scatter: {part: stone, at: [-5, -4], size: [10, 1], count: 4, seed: 1}
`

var slips = []slip{
	{"size: [10, 4], cdm2: 2", "size: [10, 4], cdm2: -2", `quay.yaml:16: rect: cdm2: must not be negative (got -2); hint: a shadow is a smaller luminance, or a dark shape with opacity`, true},
	{"size: [10, 4], cdm2: 2", "size: [10, 4]", `quay.yaml:16: rect: cdm2: missing; the luminance in cd/m²; hint: white paper in an office has about 120`, true},
	{"size: [10, 4], cdm2: 2", "size: [10, 4], cdm2: 1.7e9", `quay.yaml:16: rect: cdm2: must be at most 1.6e+09 cd/m², the luminance of the sun (got 1.7e+09)`, true},
	{"fade: {cdm2: 3,", "fade: {cdm2: -3,", `quay.yaml:16: rect: fade: cdm2: must not be negative (got -3); hint: a shadow is a smaller luminance, or a dark shape with opacity`, true},
	{"size: [10, 4], cdm2: 2", "size: [10, 4], cdm2: bright", `quay.yaml:16: expected a number such as 2.5 (got "bright")`, true},
	{"lux: 0.001", "lux: 140000", `quay.yaml:11: lamp "buoy": gives the eye 1.4e+05 lux, more than the sun (1.3e+05); hint: a dipped headlamp at 50 m gives about 0.1`, true},
	{"lux: 0.001, diameter_arcmin: 1", "lux: 1000, diameter_arcmin: 1", `quay.yaml:11: lamp "buoy": 1e+03 lux from a disc of 1 minutes of arc are 1.5e+10 cd/m², brighter than the sun (1.6e+09); hint: make it larger, or weaker`, false},
	{"lux: 0.001", "lux: -0.001", `quay.yaml:11: lamp "buoy": must give the eye more than 0 lux (got -0.001)`, true},
	{", lux: 0.001", "", `quay.yaml:11: lamp "buoy": lux: missing, or 0; the light it gives the eye; hint: a dipped headlamp at 50 m gives about 0.1, a buoy at 1 km 0.00001`, true},
	{"at: [1, 0], lux: 0.001, diameter_arcmin: 1", "place_m: [0, 0, 10], diameter_m: 0.1", `quay.yaml:11: lamp "buoy": candela: missing, or 0; hint: a dipped headlamp has at most 350 towards who comes, a house lamp about 100`, true},
	{"at: [1, 0], lux", "at: [400, 0], lux", `quay.yaml:11: lamp "buoy": at must lie within 180 degrees to a side and 90 up or down`, false},
	{"width_deg: 10", "width_deg: 400", `quay.yaml:4: width_deg: must be given and lie in 0.5 to 90 degrees (got 400); hint: a fist at arm's length is about 10 degrees wide, and a picture keeps equal angles only up to 90`, true},
	{"surround_cdm2: 0.5", "surround_cdm2: -0.5", `quay.yaml:7: surround_cdm2: must be given and lie in 1e-06 to 1000000 cd/m² (got -0.5); hint: the light beyond everything that is drawn; never 0, since no place is quite black`, true},
	{"adapt_cdm2: 1\n", "", `quay.yaml: adapt_cdm2: must be given and lie in 0.0001 to 100000 cd/m² (got 0); hint: the light most of the scene has: 0.5 on a lit road, 100 on a page, 1000 in a street by day`, true},
	{"pupil: dim", "pupil: wide", `quay.yaml:8: pupil: must be bright or dim (got "wide"); hint: dim is for rooms and roads below 5 cd/m²`, true},
	{"  - rect: {at: [-5", "  - retc: {at: [-5", `quay.yaml:16: unknown key "retc"; did you mean "rect"?`, true},
	{"fade: {cdm2: 3,", "fade: {cmd2: 3,", `quay.yaml:16: unknown key "cmd2"; did you mean "cdm2"?`, true},
	{"use: {part: stone", "use: {part: stome", `quay.yaml:17: use: there is no part "stome"; did you mean "stone"?`, false},
	{"scatter: {part: stone", "scatter: {part: sand", `quay.yaml:19: scatter: there is no part "sand"; known are stone`, false},
	{"count: 3", "count: 2.5", `quay.yaml:17: expected a whole number such as 3 (got 2.5)`, true},
	{"logmar: 0.5", "logmar: 0.5, x_height: 1", `quay.yaml:18: text: give either x_height or logmar`, true},
	{"lines: [\"Quay\"]", "lines: Quay", `quay.yaml:18: expected a list in square brackets, or one line with a dash for each (got "Quay")`, true},
	{"[10, 1], count: 4", "[10, 1], count: 4, scales: [2, 1]", `quay.yaml:19: scatter: scales: must be the smaller and the larger of two numbers above 0, at most 100 (got [2 1])`, false},
	{"[10, 1], count: 4", "[10, 1], count: 4, horizon: -3.5", `quay.yaml:19: scatter: horizon: must lie above the area, which must not stand on a plane (got -3.5)`, false},
}

func TestEverySlipIsOneSentenceWithItsLine(t *testing.T) {
	if _, err := Parse("quay.yaml", []byte(whole1)); err != nil {
		t.Fatal(err)
	}
	for _, s := range slips {
		text := strings.Replace(whole1, s.old, s.wrong, 1)
		if text == whole1 {
			t.Fatalf("%q is not in the scene", s.old)
		}
		_, err := Parse("quay.yaml", []byte(text))
		if err == nil || err.Error() != s.want {
			t.Errorf("%q\ngot  %v\nwant %s", s.wrong, err, s.want)
		}
	}
}

// A hint compares words letter by letter: with both as long as a file may hold,
// that would take tens of gigabytes.
func TestLongWordsCostNoMemory(t *testing.T) {
	long := strings.Repeat("a", 8000)
	part := "parts:\n  " + long + ": [{rect: {at: [0, 0], size: [1, 1], cdm2: 1}}]\nshapes:"
	text := strings.Replace(head, "shapes:", part, 1) + "  - use: {part: b" + long + "}\n"
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Parse("bad.yaml", []byte(text))
	runtime.ReadMemStats(&after)
	if err == nil || !strings.Contains(err.Error(), "there is no part") {
		t.Errorf("got %v", err)
	}
	const most = 50 << 20 // bytes; comparing the two names took 500 MB
	if used := after.TotalAlloc - before.TotalAlloc; used > most {
		t.Errorf("%d MB to refuse a file of 16 kB", used>>20)
	}
}
