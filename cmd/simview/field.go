package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/fieldmask"
	"simview/internal/unit"
)

// Limits of the strips of the command field.
const (
	maxStrip  = 7 // panels beside the reference view: two rows of four
	fieldForm = 1 // version of the record's layout
)

// fieldChoice is what was asked of the command field, as its record keeps it.
type fieldChoice struct {
	Eyes    string           `json:"eyes"` // right, left or both
	Rule    string           `json:"rule_for_both"`
	Retest  bool             `json:"retest,omitempty"`
	Scene   bool             `json:"with_scene,omitempty"`
	Draws   int              `json:"draws,omitempty"`
	Seed    uint64           `json:"seed,omitempty"`
	YearsY  []float64        `json:"years,omitempty"`
	Rate    string           `json:"rate,omitempty"`
	Group   string           `json:"rate_group,omitempty"`
	Options compare.Settings `json:"options"` // of the scene's pictures
}

// rules are the ways two eyes add up, by the words of the flag.
var rules = map[string]fieldmask.Rule{"summation": fieldmask.Summation, "better-eye": fieldmask.BetterEye}

func fieldCommand() *cobra.Command {
	l := looking{moreEyes: []string{"both"}}
	k := fieldChoice{}
	var asJSON bool
	var record string
	c := &cobra.Command{
		Use:   "field [CASE] -o FILE.png",
		Short: "Show the visual field: numbers, maps with how sure they are, both eyes, a scene",
		Long: `field prints every tested place: what was measured, the age norm, the loss of the
nerve that pictures are drawn with and its 90 % interval, and where the field is
worst, for you to confirm with the chart. It draws a map of the loss of each eye,
one of how sure each part is, and one of both eyes together. With --scene, the scene
as an eye with that field sees it goes to FILE-scene.png, the affected region
outlined and hatched where it may be deeper than could be measured. Beside FILE.png
it writes the tested places as FILE.csv, maps as FILE-right-map.csv and
FILE-left-map.csv, and a record, FILE.json, from which all can be made again.
Without CASE it uses the built-in demo case.`,
		Example: `  simview field
  simview field case.yaml --eye left --retest
  simview field --scene fence -o fence-field.png
  simview field --scene tide-table --draws 3
  simview field --scene fence --years 0,1,3,5 --rate median --rate-group untreated
  simview field --record field.json -o again.png`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			j, err := newFieldJob(c, &l, k, args, record)
			if err != nil {
				return err
			}
			return j.run(c, l.out, asJSON)
		},
	}
	l.flags(c, []string{"tide-table"}, "`id` of a scene to show the field over, see simview scenes, or a scene file of your own, FILE.yaml")
	k.flags(c)
	f := c.Flags()
	f.StringVarP(&l.out, "out", "o", "field.png", "output `file`, .png; it and the files beside it are replaced")
	f.BoolVar(&asJSON, "json", false, "print JSON")
	f.StringVar(&record, "record", "", "make everything of a record again (`file`); only -o, --json and --photo (where the photograph lies now) go with it")
	return c
}

func (k *fieldChoice) flags(c *cobra.Command) {
	f := c.Flags()
	f.Lookup("eye").Usage = "right, left or both (default: each `eye` that has a field); the scene is shown to the first, the complaint's if it is there"
	f.Lookup("outline").DefValue = "true"
	_ = f.Lookup("outline").Value.Set("true") // a word that it takes
	f.StringVar(&k.Rule, "rule", "summation", "how two eyes add up: `summation` or better-eye")
	f.BoolVar(&k.Retest, "retest", false, "let the simulated eye take its own field test and print what comes back; takes some seconds")
	f.IntVar(&k.Draws, "draws", 0, "show the scene with so many equally likely fields, 1 to 7 (`number`)")
	f.Uint64Var(&k.Seed, "seed", 1, "`seed` of the equally likely fields")
	f.Float64SliceVar(&k.YearsY, "years", nil, "a teaching series: show the scene with the field so many `years` on, 0 to 5, at most 7 of them, as in 0,1,3,5; a group's rate, not a forecast")
	f.StringVar(&k.Rate, "rate", "median", "whose `rate` of the group: "+strings.Join(rateWords, ", "))
	f.StringVar(&k.Group, "rate-group", groupWords()[0], "published `group`: "+strings.Join(groupWords(), ", "))
	complete(c, "rule", fixedWords("summation", "better-eye"))
	complete(c, "rate", fixedWords(rateWords...))
	complete(c, "rate-group", fixedWords(groupWords()...))
}

// fieldJob is the command field with all that it needs.
type fieldJob struct {
	fieldChoice
	from opened
	eyes []*cause.Eye
}

func newFieldJob(c *cobra.Command, l *looking, k fieldChoice, args []string, record string) (j fieldJob, err error) {
	if err := endsIn(l.out, ".png"); err != nil {
		return j, err
	}
	if record != "" {
		j, err = fieldFromRecord(c, record, l.photo.File, args)
	} else {
		j, err = chosenField(c, l, k, args)
	}
	if err != nil {
		return j, err
	}
	if err := j.check(); err != nil {
		return j, err
	}
	if err := free(j.outputs(l.out), append(slices.Clone(j.from.paths), l.photo.File)...); err != nil {
		return j, err
	}
	return j, j.resolve()
}

func chosenField(c *cobra.Command, l *looking, k fieldChoice, args []string) (j fieldJob, err error) {
	given := c.Flags().Changed
	k.Scene = given("scene") || given("photo") || k.Draws > 0 || len(k.YearsY) > 0
	k.Eyes = l.eye
	if l.eye == "both" {
		l.eye = ""
	}
	if l.photo.File != "" {
		if given("scene") {
			return j, usagef("--photo: takes the place of --scene; leave one of them out")
		}
		l.scenes = nil
	}
	if j.from, err = openCase(args); err != nil {
		return j, err
	}
	if k.Options, err = l.settings(c, j.from); err != nil {
		return j, err
	}
	switch {
	case given("seed") && k.Draws == 0:
		return j, usagef("--seed: no equally likely fields are asked for; hint: --draws says how many")
	case (given("rate") || given("rate-group")) && len(k.YearsY) == 0:
		return j, usagef("--rate: no years are asked for; hint: --years 0,1,3,5")
	}
	j.fieldChoice = k
	return j, nil
}

// check refuses what was chosen wrongly, on the command line or in a record.
func (j *fieldJob) check() error {
	_, known := rules[j.Rule]
	switch {
	case !slices.Contains([]string{"", "right", "left", "both"}, j.Eyes):
		return usagef("--eye: must be right, left or both (got %q)", j.Eyes)
	case !known:
		return usagef("--rule: must be summation or better-eye (got %q)", j.Rule)
	case !within(float64(j.Draws), 0, maxStrip):
		return usagef("--draws: must be 1 to %d (got %d)", maxStrip, j.Draws)
	case j.Draws > 0 && len(j.YearsY) > 0:
		return usagef("--years: does not go with --draws; hint: make two pictures")
	case j.Scene && len(j.Options.Scenes) > 1:
		return usagef("--scene: field takes one scene (got %d)", len(j.Options.Scenes))
	}
	if err := oneGaze(j.Options, "field"); err != nil {
		return err
	}
	return j.checkYears()
}

// resolve finds the eyes that are shown, that of the complaint first.
func (j *fieldJob) resolve() error {
	first := j.from.ComplaintSide()
	for _, side := range []unit.Side{first, first.Other()} {
		asked := j.Eyes == side.String() || j.Eyes == "both"
		if !asked && j.Eyes != "" {
			continue
		}
		e, err := j.tested(side, asked)
		if err != nil {
			return err
		}
		if e != nil {
			j.eyes = append(j.eyes, e)
		}
	}
	if len(j.eyes) == 0 {
		return casefile.Problem{File: j.from.File, What: "describes no visual field of either eye", Hint: "add fields to an eye; docs/case.md says how"}
	}
	j.Options.Eye = j.eyes[0].Side.String()
	return nil
}

// tested resolves an eye with a field test; nil where there is none and none was
// asked for.
func (j *fieldJob) tested(side unit.Side, asked bool) (*cause.Eye, error) {
	if j.from.Eye(side) == nil && !asked {
		return nil, nil
	}
	e, err := cause.Resolve(j.from.Case, side)
	if err != nil {
		return nil, err
	}
	e.Extrapolate = j.Options.Extrapolate
	if e.FieldTests() != nil {
		return e, nil
	}
	if asked {
		return nil, fmt.Errorf("%s: describes no visual field of the %s eye; hint: add eyes.%s.fields; docs/case.md says how", j.from.File, side, side)
	}
	return nil, nil
}

// outputs are the files that a run writes.
func (j *fieldJob) outputs(out string) []string {
	base := strings.TrimSuffix(out, ".png")
	return []string{out, base + ".csv", base + "-right-map.csv", base + "-left-map.csv", base + ".json", base + "-scene.png"}
}
