package server

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"curvelint/server/workspace"
)

// preferences are what a person sets in the editor, under the name curvelint.
type preferences struct {
	// InlayHints and CodeLens switch those on and off.
	InlayHints bool `json:"inlayHints"`
	CodeLens   bool `json:"codeLens"`
	// Settings have the keys of a curvelint.toml and go over every one.
	Settings settings `json:"settings"`
}

// settings are an object. An empty list is one without keys: Lua knows no other
// empty table.
type settings map[string]any

// UnmarshalJSON implements json.Unmarshaler.
func (s *settings) UnmarshalJSON(b []byte) error {
	if isEmpty(b) {
		return nil
	}
	return json.Unmarshal(b, (*map[string]any)(s))
}

func isEmpty(b []byte) bool {
	text := strings.TrimSpace(string(b))
	return text == "null" || text == "[]"
}

// prefer takes in the client's configuration: an object with some of the keys
// of preferences, perhaps under the key curvelint. What it does not name is as
// it is without configuration. It returns the scenes to be judged anew.
func (s *Server) prefer(raw []byte) []*workspace.Doc {
	var wrapped struct {
		Curvelint json.RawMessage `json:"curvelint"`
	}
	if json.Unmarshal(raw, &wrapped) == nil && len(wrapped.Curvelint) > 0 {
		raw = wrapped.Curvelint
	}
	if isEmpty(raw) {
		raw = []byte("{}")
	}
	p := preferences{InlayHints: true, CodeLens: true}
	if err := json.Unmarshal(raw, &p); err != nil {
		s.client.Warn("the settings of curvelint are passed over: %v", err)
		return nil
	}
	s.Hints.Store(p.InlayHints)
	s.Lenses.Store(p.CodeLens)
	keys, _ := wholeNumbers(map[string]any(p.Settings)).(map[string]any)
	docs, problems := s.session.SetClient(keys)
	if len(problems) > 0 {
		var b strings.Builder
		for _, problem := range problems {
			fmt.Fprintf(&b, "; %s", problem.Message)
		}
		s.client.Warn("the setting curvelint.settings: %s", b.String()[2:])
	}
	return docs
}

// wholeNumbers returns a JSON value with whole numbers as integers, which TOML
// tells from fractions, and without nulls, which it has not.
func wholeNumbers(v any) any {
	switch v := v.(type) {
	case float64:
		if v == math.Trunc(v) && math.Abs(v) < 1<<53 {
			return int64(v)
		}
	case []any:
		for i := range v {
			v[i] = wholeNumbers(v[i])
		}
	case map[string]any:
		for key := range v {
			if v[key] == nil {
				delete(v, key)
				continue
			}
			v[key] = wholeNumbers(v[key])
		}
	}
	return v
}
