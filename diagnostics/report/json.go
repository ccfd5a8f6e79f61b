package report

import (
	"bytes"
	"encoding/json"
	"io"
)

// jsonWriter writes the stable form for programs: one object with the version
// of the form and the files. It writes each file as it comes.
type jsonWriter struct {
	w     io.Writer
	files int
}

// JSONVersion is the version of the JSON form. It changes when a program that
// reads the form could go wrong, not when something is added.
const JSONVersion = 1

func (j *jsonWriter) File(f *File) error {
	var b bytes.Buffer
	if err := j.begin(&b); err != nil {
		return err
	}
	if j.files > 0 {
		b.WriteByte(',')
	}
	j.files++
	b.WriteString("\n    ")
	line := &bytes.Buffer{}
	e := json.NewEncoder(line)
	e.SetEscapeHTML(false)
	e.SetIndent("    ", "  ")
	if err := e.Encode(f); err != nil {
		return err
	}
	b.Write(bytes.TrimRight(line.Bytes(), "\n"))
	_, err := j.w.Write(b.Bytes())
	return err
}

func (j *jsonWriter) begin(b *bytes.Buffer) error {
	if j.files > 0 {
		return nil
	}
	version, err := json.Marshal(JSONVersion)
	if err != nil {
		return err
	}
	b.WriteString("{\n  \"version\": " + string(version) + ",\n  \"files\": [")
	return nil
}

func (j *jsonWriter) Close() error {
	var b bytes.Buffer
	if err := j.begin(&b); err != nil {
		return err
	}
	if j.files > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("]\n}\n")
	_, err := j.w.Write(b.Bytes())
	return err
}
