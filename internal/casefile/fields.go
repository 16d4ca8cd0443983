package casefile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"simview/internal/fieldmask"
	"simview/internal/unit"
)

// field checks one visual field test and reads its points.
func (d *decoder) field(f *FieldData, side unit.Side, path string) {
	if f.Eye != side.String() && !d.failed(path+".eye") {
		d.add(path+".eye", "names the other eye than the one it stands under", quoted(f.Eye), "move the field, or correct the eye")
	}
	d.date(path+".date", f.Date)
	switch {
	case f.CSV == "" && len(f.Points) == 0 && !d.failed(path+".csv") && !d.failed(path+".points"):
		d.add(path, "has no points", "", "name a file with csv, or list them under points")
	case f.CSV != "" && len(f.Points) > 0:
		d.add(path+".csv", "stands beside points", quoted(f.CSV), "keep one of the two")
	}
	if !d.failed(path) {
		d.readField(f, side, path)
	}
}

// readField reads the points of a field whose keys are in order.
func (d *decoder) readField(f *FieldData, side unit.Side, path string) {
	kind := fieldmask.Sensitivity
	if f.Kind == "total-deviation" {
		kind = fieldmask.TotalDeviation
	}
	name, data := "points", d.pointsCSV(f, kind, path)
	if f.CSV != "" {
		var ok bool
		if data, ok = d.beside(f.CSV, path+".csv", "field file"); !ok {
			return
		}
		name = f.CSV
	}
	meta := fieldmask.Meta{
		Side: side, XIs: f.XIs, Pattern: f.Pattern, Kind: kind, Date: f.Date, Tests: int(f.Tests),
		Scale: fieldmask.Scale{MaxCdM2: f.MaxLuminance, BackgroundCdM2: f.Background},
	}
	if !d.fieldExtras(f, &meta, path) {
		return
	}
	field, warnings, err := fieldmask.ReadCSV(bytes.NewReader(data), name, meta)
	if err != nil {
		d.add(path, "cannot be used: "+err.Error(), "", "the form of a field is described in docs/case.md")
		return
	}
	f.Field = field
	for _, w := range warnings {
		d.notices = append(d.notices, Notice{File: d.file, Line: d.lineOf(path), Key: path, What: string(w)})
	}
}

// beside reads a file that a key of the case names.
func (d *decoder) beside(file, path, what string) (data []byte, ok bool) {
	wrong := "must be a file beside the case or below it"
	if fs.ValidPath(file) {
		data, wrong = readLimited(d.fs, file)
	}
	if wrong != "" {
		d.add(path, wrong, quoted(file), "put the "+what+" beside the case file and name it with / between folders")
		return nil, false
	}
	return data, true
}

// maxAveraged is the most tests that the values of one field may be the mean of.
const maxAveraged = 100

// fieldExtras checks scale and number of tests and reads the site's own norm.
func (d *decoder) fieldExtras(f *FieldData, meta *fieldmask.Meta, path string) bool {
	ok := true
	bad := func(key, what, got, hint string) {
		d.add(path+"."+key, what, got, hint)
		ok = false
	}
	if f.Tests > maxAveraged {
		bad("averaged_tests", fmt.Sprintf("must be 1 to %d", maxAveraged), fmt.Sprint(f.Tests), "leave it out for a single test")
	}
	if meta.Kind == fieldmask.TotalDeviation {
		for _, k := range []struct {
			key string
			set bool
		}{{"max_luminance_cdm2", f.MaxLuminance != 0}, {"background_cdm2", f.Background != 0}, {"normal_csv", f.NormalCSV != ""}} {
			if k.set {
				bad(k.key, "has no meaning beside deviations, which already stand against a norm", "", "leave it out, or give sensitivities")
			}
		}
	}
	if !ok || f.NormalCSV == "" {
		return ok
	}
	data, ok := d.beside(f.NormalCSV, path+".normal_csv", "table of normal values")
	if !ok {
		return false
	}
	norm, err := fieldmask.ReadNorm(bytes.NewReader(data), f.NormalCSV)
	if err != nil {
		bad("normal_csv", "cannot be used: "+err.Error(), "", "the form of the table is described in docs/case.md")
		return false
	}
	meta.Norm = norm
	return true
}

// pointsCSV writes the listed points as a field file whose line numbers are
// those of the case file, so that a message about a point names its place.
func (d *decoder) pointsCSV(f *FieldData, kind fieldmask.Kind, path string) []byte {
	var b strings.Builder
	at := 1
	put := func(line int, text string) {
		for ; at < line; at++ {
			b.WriteByte('\n')
		}
		b.WriteString(text + "\n")
		at++
	}
	column := "sensitivity_db"
	if kind == fieldmask.TotalDeviation {
		column = "total_deviation_db"
	}
	for i, p := range f.Points {
		line := d.lineOf(fmt.Sprintf("%s.points[%d]", path, i+1))
		if i == 0 {
			put(line-1, "x_deg,y_deg,"+column)
		}
		put(line, fmt.Sprintf("%v,%v,%v", p.XDeg, p.YDeg, p.DB))
	}
	return []byte(b.String())
}

// readLimited reads a file of at most the size limit; what is wrong otherwise.
func readLimited(fsys fs.FS, name string) (data []byte, what string) {
	if fsys == nil {
		return nil, "names a file, but this case has no folder to look in"
	}
	info, err := fs.Stat(fsys, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "is not there"
	case err != nil:
		return nil, "cannot be opened"
	case info.IsDir():
		return nil, "is a folder, not a file"
	case !info.Mode().IsRegular():
		return nil, "is not an ordinary file"
	case info.Size() > maxBytes:
		return nil, fmt.Sprintf("has %d bytes; at most %d are read", info.Size(), maxBytes)
	}
	if data, err = fs.ReadFile(fsys, name); err != nil {
		return nil, "cannot be read"
	}
	return data, ""
}
