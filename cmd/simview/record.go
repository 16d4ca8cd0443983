package main

import (
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"simview/internal/compare"
)

// recordAlone refuses a case and flags that a record answers itself.
func recordAlone(c *cobra.Command, args []string) (err error) {
	if len(args) > 0 {
		return usagef("--record: a record holds its own case; leave out %s", args[0])
	}
	c.Flags().Visit(func(f *pflag.Flag) {
		if f.Name != "record" && f.Name != "out" && f.Name != "photo" && f.Name != "json" && f.Name != "pitch-mm" && f.Name != "card-px" && err == nil {
			err = usagef("--%s: does not go with --record, which holds its own options; hint: leave it out", f.Name)
		}
	})
	return err
}

// fromRecord rebuilds the case of the record at path from the record's own text. A
// photo takes the place of the photograph in the record's settings.
func fromRecord(path, photo string, set *compare.Settings, name string, files map[string]string) (opened, error) {
	if photo != "" {
		if set.Photo == nil {
			return opened{}, usagef("--photo: the record %s has no photograph; hint: leave it out", path)
		}
		set.Photo.File = photo
	}
	from, err := parseCase(name, textFS(files))
	if err != nil {
		return from, fmt.Errorf("record %s: %w", path, err)
	}
	return from, nil
}
