package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"time"
)

// session is an editor with one text open.
type session struct {
	*wire
	pull    bool
	folder  string
	path    string
	uri     string
	lang    string
	text    []byte
	version int
	at      int // offset of the digit that edits change
	line    int // its line
	column  int
}

type object = map[string]any

// connect starts a server and shakes hands; it returns how long that took.
func connect(pull bool, folder, command string, args ...string) (*session, time.Duration, error) {
	start := time.Now()
	w, err := speak(command, args...)
	if err != nil {
		return nil, 0, err
	}
	s := &session{wire: w, pull: pull, folder: folder}
	document := object{
		"synchronization":    object{},
		"publishDiagnostics": object{"relatedInformation": true, "versionSupport": true},
		"documentSymbol":     object{"hierarchicalDocumentSymbolSupport": true},
		"hover":              object{"contentFormat": []string{"markdown"}},
	}
	if pull {
		document["diagnostic"] = object{"dynamicRegistration": false}
	}
	_, err = s.call("initialize", object{"processId": nil, "rootUri": "file://" + folder,
		"workspaceFolders": []object{{"uri": "file://" + folder, "name": "ferry"}},
		"capabilities":     object{"textDocument": document, "workspace": object{"diagnostics": object{"refreshSupport": pull}}}})
	took := time.Since(start)
	if err != nil {
		w.end()
		return nil, 0, err
	}
	return s, took, s.notify("initialized", object{})
}

// open opens a text and returns how long it took until its notes were there.
func (s *session) open(path, lang string, text []byte) (time.Duration, error) {
	s.path, s.uri, s.lang, s.text, s.version = path, "file://"+filepath.ToSlash(path), lang, bytes.Clone(text), 1
	s.place(len(text) / 2)
	s.forget()
	params := object{"textDocument": object{"uri": s.uri, "languageId": lang, "version": 1, "text": string(text)}}
	start := time.Now()
	if err := s.notify("textDocument/didOpen", params); err != nil {
		return 0, err
	}
	return s.untilNotes(start)
}

// untilNotes waits for the notes on the present version, pulled or pushed.
func (s *session) untilNotes(start time.Time) (time.Duration, error) {
	if s.pull {
		_, at, err := s.timedCall("textDocument/diagnostic", object{"textDocument": object{"uri": s.uri}})
		return at.Sub(start), err
	}
	p, err := s.notes(s.uri, s.version)
	return p.at.Sub(start), err
}

// decimal is the point of a number with decimals.
var decimal = regexp.MustCompile(`\.\d+[,) \n]`)

// place finds the digit that edits change: the last one of a number near an
// offset; in glTF one of a node's translation.
func (s *session) place(near int) {
	i := near
	if n := bytes.Index(s.text, []byte(`"translation"`)); n >= 0 {
		i = n
	}
	if at := decimal.FindIndex(s.text[i:]); at != nil {
		i += at[0]
	} else {
		i = decimal.FindIndex(s.text)[0]
	}
	for i+1 < len(s.text) && s.text[i+1]-'0' <= 9 {
		i++
	}
	s.at = i
	s.line = bytes.Count(s.text[:i], []byte("\n"))
	s.column = i - 1 - bytes.LastIndexByte(s.text[:i], '\n')
}

// edit changes the digit and returns how long it took until the notes on the
// new version were there.
func (s *session) edit() (time.Duration, error) {
	start := time.Now()
	if err := s.press(); err != nil {
		return 0, err
	}
	return s.untilNotes(start)
}

// press changes the digit.
func (s *session) press() error {
	s.version++
	digit := byte('0' + s.version%10)
	s.text[s.at] = digit
	return s.notify("textDocument/didChange", object{"textDocument": object{"uri": s.uri, "version": s.version}, "contentChanges": []object{{
		"range": object{"start": s.position(0), "end": s.position(1)}, "text": string(digit)}}})
}

// replaceAll replaces the whole text.
func (s *session) replaceAll(text []byte) error {
	s.version++
	s.text = text
	return s.notify("textDocument/didChange", object{"textDocument": object{"uri": s.uri, "version": s.version},
		"contentChanges": []object{{"text": string(text)}}})
}

func (s *session) position(beyond int) object {
	return object{"line": s.line, "character": s.column + beyond}
}

// ask times a request about the text.
func (s *session) ask(method string, params object) (time.Duration, json.RawMessage, error) {
	params["textDocument"] = object{"uri": s.uri}
	start := time.Now()
	answer, at, err := s.timedCall(method, params)
	return at.Sub(start), answer, err
}

func (s *session) hover() (time.Duration, error) {
	d, _, err := s.ask("textDocument/hover", object{"position": s.position(0)})
	return d, err
}

func (s *session) symbols() (time.Duration, error) {
	d, answer, err := s.ask("textDocument/documentSymbol", object{})
	if err == nil && len(answer) < 10 {
		err = fmt.Errorf("no symbols in %s: %s", s.uri, answer)
	}
	return d, err
}

// hints asks for the hints of a window of 60 lines.
func (s *session) hints() (time.Duration, error) {
	d, answer, err := s.ask("textDocument/inlayHint", object{"range": object{
		"start": object{"line": max(0, s.line-30), "character": 0}, "end": object{"line": s.line + 30, "character": 0}}})
	if err == nil && len(answer) < 10 {
		err = fmt.Errorf("no hints in %s: %s", s.uri, answer)
	}
	return d, err
}

// close closes the text.
func (s *session) close() error {
	return s.notify("textDocument/didClose", object{"textDocument": object{"uri": s.uri}})
}
