//go:build !race

package main

import (
	"errors"
	"io"
	"strings"
	"syscall"
	"testing"
)

// refusals are command lines that fail, with all that is said about them.
var refusals = []struct {
	line string
	code int
	says string // without "error: " and the last line end
}{
	{"bogus", 2, "unknown command \"bogus\"; hint: `simview --help` lists the commands"},
	{"comprae", 2, "unknown command \"comprae\"; hint: did you mean `simview compare`?"},
	{"compare a b", 2, "one case at most may be named (got \"a b\")\nhint: simview compare --help"},
	{"check", 2, "check: name a case file, as in `simview check case.yaml`\nhint: simview check --help"},
	{"scenes x", 2, "scenes: takes no case (got \"x\")\nhint: simview scenes --help"},
	{"check nosuch.yaml", 1, "nosuch.yaml: is not there; hint: name a case file, as in simview check case.yaml; docs/case.md says how to write one"},
	{"inspect .", 1, ".: is a folder, not a file; hint: name a case file, as in simview check case.yaml; docs/case.md says how to write one"},
	{"compare --pupil 3", 2, "unknown flag: --pupil\nhint: simview compare --help"},
	{"psf -x", 2, "unknown shorthand flag: 'x' in -x\nhint: simview psf --help"},
	{"compare -o", 2, "--out: a value must follow\nhint: simview compare --help"},
	{"compare --gaze-deg a", 2, "--gaze-deg: must be numbers with a comma between them, as in 3,6 (got \"a\")\nhint: simview compare --help"},
	{"compare --gaze-deg 1", 2, "--gaze-deg: must be two angles from -60 to 60, as in --gaze-deg 4,-5 (got [1])\nhint: simview compare --help"},
	{"render --gaze-deg NaN,0", 2, "--gaze-deg: must be two angles from -60 to 60, as in --gaze-deg 4,-5 (got [NaN 0])\nhint: simview render --help"},
	{"inspect --pupil-mm x", 2, "--pupil-mm: must be a number, as in 2.5 (got \"x\")\nhint: simview inspect --help"},
	{"inspect --pupil-mm NaN", 2, "--pupil-mm: must be 1 to 9 (got NaN)\nhint: simview inspect --help"},
	{"inspect --pupil-mm 0", 2, "--pupil-mm: must be 1 to 9 (got 0)\nhint: simview inspect --help"},
	{"inspect --distance-m NaN", 2, "--distance-m: must be 0.1 or more (got NaN)\nhint: simview inspect --help"},
	{"inspect --frequency-cpd 3,-1", 2, "--frequency-cpd: must be above 0 and at most 100 (got [3 -1])\nhint: simview inspect --help"},
	{"compare --scene nix", 2, "--scene: there is no scene \"nix\"; known are SCENES; hint: `simview scenes` lists them"},
	{"compare --scene letters,letters", 2, "--scene: names letters twice\nhint: simview compare --help"},
	{"render --scene letters,tide-table", 2, "--scene: render takes one scene (got 2)\nhint: simview render --help"},
	{"compare --trial nix", 2, "--trial \"nix\": not known; hint: `simview causes` lists the trials"},
	{"compare --trial pinhole,pinhole", 2, "--trial: names pinhole twice\nhint: simview compare --help"},
	{"render --trial nix", 2, "--trial \"nix\": not known; hint: `simview causes` lists the trials"},
	{"render --trial pinhole --same-glasses", 2, "--same-glasses: does not go with --trial, which says itself which glasses are worn\nhint: simview render --help"},
	{"render --view lens=a", 2, "--view: strength of lens: must be a number from 0 to 3 (got \"a\")\nhint: simview render --help"},
	{"render --view lens=NaN", 2, "--view: strength of lens: must be between 0 and 3 (got NaN)\nhint: simview render --help"},
	{"psf --view lens=4", 2, "--view: strength of lens: must be between 0 and 3 (got 4)\nhint: simview psf --help"},
	{"psf --view nix", 2, "--view: cause \"nix\": the right eye of this case has no such cause; hint: `simview causes` lists them"},
	{"psf --view reference,lens", 2, "--view: reference stands alone, without a strength and other causes (got \"reference\")\nhint: simview psf --help"},
	{"psf --view lens,lens=2", 2, "--view: names lens twice\nhint: simview psf --help"},
	{"psf --view=", 2, "--view: is empty; hint: all, reference, or causes as in lens=1,field=0.5"},
	{"psf --eye middle", 2, "--eye: must be right or left (got \"middle\")\nhint: simview psf --help"},
	{"compare --eye middle", 2, "--eye: must be right or left (got \"middle\")\nhint: simview compare --help"},
	{"compare case.yaml --eye right", 1, "case.yaml: describes no right eye; hint: add eyes.right or choose the other eye"},
	{"compare --tone loud", 2, "--tone: must be linear, photographic, visibility or by-scene (got \"loud\")\nhint: simview compare --help"},
	{"compare --one-eye", 2, "--one-eye: goes with --pupil-from-light; a measured pupil is taken as it is\nhint: simview compare --help"},
	{"compare --colour pink", 2, "--colour: must be shared, beyond or own (got \"pink\")\nhint: simview compare --help"},
	{"compare --lca newton", 2, "--lca: must be thibos or atchison-smith (got \"newton\")\nhint: simview compare --help"},
	{"compare --layers halo", 2, "--layers: must be ring or needles (got \"halo\")\nhint: simview compare --help"},
	{"compare --layers ring,ring", 2, "--layers: names ring twice\nhint: simview compare --help"},
	{"render --lens-tint-from-years 5", 2, "--lens-tint-from-years: must be 16 to 90, or 0 to leave the tint out (got 5)\nhint: simview render --help"},
	{"render --lens-tint-from-years NaN", 2, "--lens-tint-from-years: must be 16 to 90, or 0 to leave the tint out (got NaN)\nhint: simview render --help"},
	{"render -o x/y.png", 1, "x/y.png: the folder x does not exist; hint: make it first, or name another with -o"},
	{"render -o case.yaml/y.png", 1, "case.yaml/y.png: case.yaml is not a folder; hint: name another file with -o"},
	{"render -o view.jpg", 2, "-o: must name a .png or .tif file (got \"view.jpg\")\nhint: simview render --help"},
	{"psf -o x/y.npy", 1, "x/y.npy: the folder x does not exist; hint: make it first, or name another with -o"},
	{"psf -o y.csv", 2, "-o: must end in .npy or .png (got \"y.csv\")\nhint: simview psf --help"},
	{"psf --primary pink", 2, "--primary: must be red, green or blue (got \"pink\")\nhint: simview psf --help"},
	{"psf --white --primary red", 2, "--white: does not go with --primary; leave one of them out\nhint: simview psf --help"},
	{"psf --white=false", 2, "--white: is the only light unless --primary names another\nhint: simview psf --help"},
	{"psf --distance-m 0", 2, "--distance-m: must be 0.1 or more (got 0)\nhint: simview psf --help"},
	{"eye -o eye.jpg", 2, "-o: must name a .png file (got \"eye.jpg\")\nhint: simview eye --help"},
	{"eye --pupil-mm 0", 2, "--pupil-mm: must be 1 to 9 (got 0)\nhint: simview eye --help"},
	{"eye --meridian-deg NaN", 2, "--meridian-deg: must be -360 to 360 (got NaN)\nhint: simview eye --help"},
	{"eye --eye middle", 2, "--eye: must be right or left (got \"middle\")\nhint: simview eye --help"},
	{"compare -o case.yaml", 1, "output folder case.yaml: cannot be used: not a directory; hint: name another with -o"},
	{"compare -o /proc/nowhere", 1, "output folder /proc/nowhere: cannot be used: no such file or directory; hint: name another with -o"},
	{"compare --record nix", 1, "record nix: cannot be read; hint: it is the record.json of a folder that compare made"},
	{"compare --record case.yaml", 1, "record case.yaml: is not a record of this version (format 1 expected); hint: name a record.json that compare wrote"},
	{"compare case.yaml --record nix", 2, "--record: a record holds its own case; leave out case.yaml\nhint: simview compare --help"},
	{"compare --record nix --tone linear", 2, "--tone: does not go with --record, which holds its own options; hint: leave it out"},
	{"compare --scene=", 2, "--scene: names no scene; hint: `simview scenes` lists them"},
}

func TestARefusalSaysWhatIsWrongAndNothingElse(t *testing.T) {
	bench(t)
	before := names(t, ".")
	for _, r := range refusals {
		got := call(t, strings.Fields(r.line)...)
		says := strings.Replace(r.says, "SCENES", strings.Join(sceneWords(nil), ", "), 1)
		want := told{r.code, "", "error: " + says + "\n"}
		if got != want {
			t.Errorf("simview %s:\ngot  %+v\nwant %+v", r.line, got, want)
		}
	}
	same(t, names(t, "."), before)
}

func TestWithoutArgumentsTheCommandsAreListed(t *testing.T) {
	got := must(t)
	for _, name := range commands {
		if !strings.Contains(got.out, "\n  "+name+" ") {
			t.Errorf("%s is not listed:\n%s", name, got.out)
		}
	}
	if v := must(t, "--version"); v.out != "simview version "+version+"\n" {
		t.Errorf("--version: %q", v.out)
	}
}

// full is a standard output on a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

func TestNumbersThatCannotBeWrittenAreNoSuccess(t *testing.T) {
	var says strings.Builder
	for _, args := range [][]string{{"scenes"}, {"scenes", "--json"}, {"causes"}} {
		says.Reset()
		if code := run(t.Context(), args, full{}, &says); code != 1 || !strings.Contains(says.String(), "output: cannot be written: no space left on device") {
			t.Errorf("%v: exit code %d, %q", args, code, says.String())
		}
	}
	if err := (&checked{to: io.Discard}).failed(); err != nil {
		t.Error(err)
	}
	if !errors.Is((&checked{err: syscall.ENOSPC}).failed(), syscall.ENOSPC) {
		t.Error("the cause is lost")
	}
}
