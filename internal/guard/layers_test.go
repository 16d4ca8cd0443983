package guard

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// place is where a room stands in the house.
type place struct {
	level  int      // a room imports only rooms of a lower level
	only   []string // when not nil: the only rooms it may import
	reason string
}

// house is the order of the rooms, from the ground up.
var house = map[string]place{
	"unit":        {0, []string{}, "the ground: quantities know nothing of what is done with them"},
	"fft":         {0, []string{}, "arrays of numbers, no quantity"},
	"lettering":   {0, []string{}, "lines of text in a picture; knows no quantity"},
	"schema":      {0, []string{}, "the schema of a file from its Go types; knows no key"},
	"shares":      {0, []string{}, "divides a number among sets; pure arithmetic"},
	"match":       {1, []string{"unit"}, "answers of a person about views, known by name only: no picture, no page, no file"},
	"figure":      {0, []string{}, "values and curves as pictures; knows no quantity"},
	"sweep":       {0, []string{}, "a grid of words and numbers: which pictures there are and what is left; makes none"},
	"doubt":       {0, []string{}, "noise, priors and seeded draws; pure arithmetic"},
	"zernike":     {1, []string{"unit"}, "polynomials over a pupil"},
	"psf":         {2, []string{"unit", "zernike", "fft"}, "takes an aperture, never an eye: optics know nothing of field or case"},
	"light":       {2, []string{"unit", "fft"}, "pictures in linear light, glare and colour know nothing of wavefronts"},
	"csf":         {3, []string{"unit", "light"}, "contrast sensitivity of a normal eye"},
	"fieldmask":   {4, []string{"unit", "light", "csf", "fft"}, "takes a picture and a loss, never a wavefront"},
	"eye":         {5, nil, "state and parts: the meeting place of optics and field"},
	"studio":      {3, []string{"light"}, "light in simple rooms, before any eye; makes pictures that scenes stand on"},
	"scene":       {5, []string{"schema", "unit", "light"}, "a piece of world looks the same whoever looks"},
	"cornea":      {5, []string{"unit", "zernike"}, "a surface and its path"},
	"refraction":  {5, nil, "sphere, cylinder and focus"},
	"raytrace":    {6, nil, "surfaces of an eye"},
	"quality":     {7, nil, "numbers of a wavefront and of a state; cause refracts with them"},
	"acuity":      {7, []string{"csf", "psf", "scene"}, "reads letters through a transfer function; knows no eye"},
	"casefile":    {8, nil, "what the clinician wrote; reads files"},
	"cause":       {9, nil, "resolve, causes, trials"},
	"render":      {10, nil, "view, panel, sheet"},
	"plot":        {7, []string{"unit", "zernike", "psf", "refraction", "raytrace", "light", "lettering"}, "drawings of a traced eye, maps of a field given as functions; knows nothing of a case"},
	"lost":        {11, []string{"csf", "fft", "fieldmask", "light", "plot", "psf", "render", "scene"}, "compares what two eyes see in a scene, on the views of render"},
	"inspect":     {11, nil, "the numbers of a state, from what the pictures use"},
	"compare":     {11, nil, "from a case to a sheet and its record"},
	"explain":     {12, nil, "the story of a case in numbers"},
	"web":         {13, nil, "the page in the room: questions of a browser turned into views"},
	"cmd/simview": {14, nil, "the program"},
	"scenes":      {6, []string{"scene"}, "the scenes that are built in"},
	"scenes/make": {7, []string{"studio", "scene", "light", "scenes"}, "renders the pictures of the built-in scenes once, for whoever changes one"},
	"guard":       {0, []string{}, "tests only"},
}

// upward returns the imports that break the order of the house.
func upward(p pkg) []string {
	name := room(p.ImportPath)
	here, known := house[name]
	if !known {
		return []string{fmt.Sprintf("%s: has no place in the table of rooms; add it with its level and a reason", name)}
	}
	var faults []string
	for _, imp := range p.Imports {
		if !strings.HasPrefix(imp, module+"/") {
			continue
		}
		other := room(imp)
		there, known := house[other]
		switch {
		case !known:
			faults = append(faults, fmt.Sprintf("%s: imports %s, which has no place in the table of rooms", name, other))
		case there.level >= here.level:
			faults = append(faults, fmt.Sprintf("%s: imports %s, which is not below it (%s)", name, other, here.reason))
		case here.only != nil && !slices.Contains(here.only, other):
			faults = append(faults, fmt.Sprintf("%s: may import only %v, not %s (%s)", name, here.only, other, here.reason))
		}
	}
	return faults
}

func TestRoomsImportOnlyDownward(t *testing.T) {
	for _, p := range all(t) {
		report(t, upward(p))
	}
}

func TestTheImportRuleCanFail(t *testing.T) {
	imports := func(path string, imports ...string) []string {
		return upward(pkg{ImportPath: module + "/" + path, Imports: imports})
	}
	wants(t, imports("internal/psf", "math", "simview/internal/unit"))
	wants(t, imports("internal/psf", "simview/internal/eye"), "not below it")
	wants(t, imports("internal/psf", "simview/internal/light"), "not below it")
	wants(t, imports("internal/scene", "simview/internal/psf"), "may import only")
	wants(t, imports("internal/eye", "simview/internal/nowhere"), "no place")
	wants(t, imports("internal/nowhere"), "no place")
}

// outside are the packages through which a program meets files, processes and
// the network.
var outside = []string{"os", "os/exec", "os/signal", "io/ioutil", "net", "syscall", "plugin"}

// mayMeetOutside names the rooms that may use them, and why.
var mayMeetOutside = map[string]string{
	"casefile":    "reads the case and the tables it names",
	"cmd/simview": "reads arguments and writes the outputs",
	"web":         "answers the browser of this computer",
	"scenes/make": "writes the pictures that stand beside the scenes",
}

// reaching returns the imports that touch the outside from a room that must not.
func reaching(p pkg) []string {
	name := room(p.ImportPath)
	if mayMeetOutside[name] != "" {
		return nil
	}
	var faults []string
	for _, imp := range p.Imports {
		if slices.Contains(outside, imp) || strings.HasPrefix(imp, "net/") {
			faults = append(faults, fmt.Sprintf("%s: imports %s; only casefile and the program meet files and the network", name, imp))
		}
	}
	return faults
}

func TestOnlyCasefileAndTheProgramMeetTheOutside(t *testing.T) {
	for _, p := range all(t) {
		report(t, reaching(p))
	}
}

func TestTheOutsideRuleCanFail(t *testing.T) {
	wants(t, reaching(pkg{ImportPath: "simview/internal/psf", Imports: []string{"os", "math", "net/http"}}), "os", "net/http")
	wants(t, reaching(pkg{ImportPath: "simview/internal/casefile", Imports: []string{"os"}}))
}

// foreign returns the imports that need a C compiler.
func foreign(p pkg) []string {
	if slices.Contains(p.Imports, "C") {
		return []string{room(p.ImportPath) + ": imports C; the program is pure Go"}
	}
	return nil
}

func TestNothingNeedsCgo(t *testing.T) {
	for _, p := range all(t) {
		report(t, foreign(p))
	}
	wants(t, foreign(pkg{ImportPath: "simview/internal/psf", Imports: []string{"C"}}), "pure Go")
}
