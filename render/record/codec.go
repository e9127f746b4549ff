package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Encode returns the record as indented JSON with a final newline, its own digest last.
func (r *Record) Encode() ([]byte, error) {
	sealed := *r
	sealed.Digest = ""
	data, err := json.MarshalIndent(sealed, "", " ")
	if err != nil {
		return nil, fmt.Errorf("record of %s: %w", r.Serial, err)
	}
	data = append(data, '\n')
	r.Digest = Digest(data)
	open := bytes.LastIndex(data, []byte(`""`)) // the digest is the last entry
	return slices.Concat(data[:open+1], []byte(r.Digest), data[open+1:]), nil
}

// Encode returns the contents as JSON on one line: only the record is meant to be read by people.
func (c *Contents) Encode() ([]byte, error) {
	data, err := json.Marshal(c)
	return append(data, '\n'), err
}

// errChanged reports that a file is not as this program wrote it.
var errChanged = errors.New("changed after it was written")

// Decode decodes a record. It accepts only the exact bytes that Encode returns, so that
// any change is an error. Serial number, revisions and names of files are validated, so
// that they can be used as paths.
func Decode(data []byte) (*Record, error) {
	var r Record
	if err := decode(data, &r); err != nil {
		return nil, fmt.Errorf("not a record: %w", err)
	}
	if r.Format != Format {
		return nil, fmt.Errorf("not a record this program knows: shape %d, expected %d", r.Format, Format)
	}
	if err := r.sound(); err != nil {
		return nil, fmt.Errorf("not a record: %w", err)
	}
	digest := r.Digest
	again, err := r.Encode()
	if err != nil {
		return nil, err
	}
	if r.Digest != digest || !bytes.Equal(again, data) {
		return nil, errChanged
	}
	return &r, nil
}

// DecodeContents decodes contents. The caller has compared their digest with the record.
func DecodeContents(data []byte) (*Contents, error) {
	var c Contents
	if err := decode(data, &c); err != nil {
		return nil, fmt.Errorf("not the contents of a guide: %w", err)
	}
	for _, v := range c.Values {
		if slices.ContainsFunc(v.Inputs, func(i int) bool { return i < 0 || i >= len(c.Counted) }) {
			return nil, fmt.Errorf("not the contents of a guide: %s has an input that is not there", v.Name)
		}
	}
	return &c, nil
}

// decode decodes exactly one JSON value and refuses unknown keys.
func decode(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something follows its end")
	}
	return nil
}

var (
	vinForm    = source.Pattern(`^[A-Za-z0-9]{17}$`)
	fileForm   = source.Pattern(`^[a-z]{1,32}\.[a-z]{2,5}$`)
	digestForm = source.Pattern(`^[0-9a-f]{64}$`)
)

// sound validates what other code relies on.
func (r *Record) sound() error {
	day := func(text string) bool { _, err := time.Parse(time.DateOnly, text); return err == nil }
	for _, c := range []struct {
		ok         bool
		name, text string
	}{
		{sheet.ValidSerial(r.Serial), "serial", r.Serial},
		{vinForm().MatchString(r.VIN), "vin", r.VIN},
		{sheet.ValidRevision(r.Revision), "revision", r.Revision},
		{day(r.Issued), "issued", r.Issued},
		{r.Delivered == "" || day(r.Delivered), "delivered", r.Delivered},
		{digestForm().MatchString(r.Content), "content", r.Content},
		{digestForm().MatchString(r.Looks), "looks", r.Looks},
		{digestForm().MatchString(r.Inputs.Sheet), "inputs.sheet", r.Inputs.Sheet},
	} {
		if !c.ok {
			return fmt.Errorf("%s is %q", c.name, c.text)
		}
	}
	names := map[string]bool{File: true}
	for _, f := range r.Files {
		if !fileForm().MatchString(f.Name) || names[f.Name] || f.Size < 0 || !digestForm().MatchString(f.SHA256) {
			return fmt.Errorf("files has %q of %d bytes with digest %q", f.Name, f.Size, f.SHA256)
		}
		names[f.Name] = true
	}
	for _, needed := range []string{sheet.CopyName, ContentsFile, LineFile} {
		if !names[needed] {
			return fmt.Errorf("files lacks %s", needed)
		}
	}
	copied := r.Files[slices.IndexFunc(r.Files, func(f Delivered) bool { return f.Name == sheet.CopyName })]
	if copied.SHA256 != r.Inputs.Sheet {
		return fmt.Errorf("inputs.sheet is not the digest of %s", sheet.CopyName)
	}
	letters := slices.Clone(r.Kept)
	for i, k := range append(letters, Kept{Revision: r.Revision}) {
		if !sheet.ValidRevision(k.Revision) || i < len(r.Kept) && !digestForm().MatchString(k.SHA256) || i > 0 && !sheet.LaterRevision(k.Revision, r.Kept[i-1].Revision) {
			return fmt.Errorf("kept has revision %q out of its order, or a digest that is none", k.Revision)
		}
	}
	return nil
}
