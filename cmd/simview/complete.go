package main

import (
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/unit"
	"simview/scenes"
)

// words gives the words that may stand behind a flag.
type words func(args []string) []string

// complete registers the words of a flag for the shell; of several words with
// a comma between them, the last one is completed.
func complete(c *cobra.Command, flag string, of words) {
	list := strings.HasSuffix(c.Flags().Lookup(flag).Value.Type(), "Slice")
	fn := func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		before := ""
		if i := strings.LastIndexByte(typed, ','); list && i >= 0 {
			before = typed[:i+1]
		}
		var out []string
		for _, w := range of(args) {
			if strings.HasPrefix(before+w, typed) {
				out = append(out, before+w)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
	if err := c.RegisterFlagCompletionFunc(flag, fn); err != nil {
		panic(err) // the flag is named in this program
	}
}

func fixedWords(all ...string) words { return func([]string) []string { return all } }

func sceneWords([]string) []string {
	list, err := scenes.Builtins()
	if err != nil {
		return nil
	}
	var out []string
	for _, s := range list {
		out = append(out, s.ID)
	}
	return out
}

func trialWords([]string) []string {
	var out []string
	for _, t := range cause.Trials {
		out = append(out, t.ID)
	}
	return out
}

// viewWords are the causes of the case that is named.
func viewWords(args []string) []string {
	out := []string{"all", "reference"}
	from, err := openCase(args)
	if err != nil {
		return out
	}
	have := map[cause.ID]bool{}
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		if from.Eye(side) == nil {
			continue
		}
		if e, err := cause.Resolve(from.Case, side); err == nil {
			for _, k := range e.Causes {
				have[k.ID] = true
			}
		}
	}
	for _, id := range cause.Order {
		if have[id] {
			out = append(out, string(id))
		}
	}
	return out
}

// caseFiles completes the name of a case.
func caseFiles(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}
