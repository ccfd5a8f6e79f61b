package page

import (
	"bytes"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"sync"
)

// web holds the page: a frame, styles, and scripts in the order of their names.
//
//go:embed web
var web embed.FS

// parts of the page, put together once.
type frame struct {
	head *template.Template // up to the shots
	tail []byte             // after them
	// script is the hash of the only script that may run, as a content security
	// policy writes it.
	script string
}

var thePage = sync.OnceValue(func() *frame {
	script, style := joined("web/*.js"), joined("web/*.css")
	text := joined("web/page.html")
	head, tail, _ := bytes.Cut(text, []byte("<!-- shots -->\n"))
	sum := sha256.Sum256(script)
	return &frame{
		head:   template.Must(template.New("page").Parse(string(bytes.Replace(head, []byte("/* styles */"), style, 1)))),
		tail:   bytes.Replace(tail, []byte("/* script */"), script, 1),
		script: "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'",
	}
})

// joined returns the embedded files that match, one after the other.
func joined(pattern string) []byte {
	names, err := fs.Glob(web, pattern)
	if err != nil || len(names) == 0 {
		panic(fmt.Sprint("page: nothing embedded is ", pattern)) // a fault of the build
	}
	var all []byte
	for _, name := range names {
		b, err := web.ReadFile(name)
		if err != nil {
			panic(err)
		}
		all = append(all, b...)
	}
	return all
}

// policy is the content security policy of a page that may connect to where
// connect says: nothing is loaded from anywhere, and no script runs but ours.
func policy(connect string) string {
	return "default-src 'none'; base-uri 'none'; form-action 'none'; style-src 'unsafe-inline'; img-src data:; script-src " +
		thePage().script + "; connect-src " + connect
}

// Writer writes one page of several shots, each as it comes; with more than one
// the page lets the reader choose. Close ends the page.
type Writer struct {
	w     io.Writer
	title string
	live  bool
	begun bool
	// revision is that of the shot on a live page.
	revision string
}

// NewWriter returns a writer of a page with a title.
func NewWriter(w io.Writer, title string) *Writer { return &Writer{w: w, title: title} }

func (w *Writer) begin() error {
	if w.begun {
		return nil
	}
	w.begun = true
	connect := "'none'"
	if w.live {
		connect = "'self'"
	}
	return thePage().head.Execute(w.w, struct {
		Title, Policy, Revision string
		Live                    bool
	}{w.title, policy(connect), w.revision, w.live})
}

// Add adds a shot.
func (w *Writer) Add(shot Encoded) error {
	if err := w.begin(); err != nil {
		return err
	}
	for _, b := range [][]byte{[]byte(`<script type="application/json" class="shot">`), shot, []byte("</script>\n")} {
		if _, err := w.w.Write(b); err != nil {
			return err
		}
	}
	return nil
}

// Close ends the page; it does not close what it is written to.
func (w *Writer) Close() error {
	if err := w.begin(); err != nil {
		return err
	}
	_, err := w.w.Write(thePage().tail)
	return err
}

// Write writes a page of the shots, unless the context ends first.
func Write(ctx context.Context, w io.Writer, title string, shots ...*Shot) error {
	p := NewWriter(w, title)
	for _, s := range shots {
		e, err := Encode(ctx, s)
		if err != nil {
			return err
		}
		if err := p.Add(e); err != nil {
			return err
		}
	}
	return p.Close()
}
