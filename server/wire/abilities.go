package wire

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/parse/text"
)

// Abilities are what a client can do, as far as the server cares. What it does not
// say it cannot.
type Abilities struct {
	Encoding text.Encoding // in which it counts columns

	// Notes.
	Pull            bool // it asks for notes and can be told to ask again
	RelatedPlaces   bool // a note may name other places
	RelatedFiles    bool // a report on one file may tell of others too
	CodeDescription bool // a note may lead to a document
	Unnecessary     bool // what is not needed is shown faded
	NoteData        bool // what goes with a note comes back with it

	// What is shown.
	Markdown      bool // hover may be Markdown
	Images        bool // hover may hold pictures as data addresses
	Dark          bool // and they are for a dark background
	NestedSymbols bool // the outline may be a tree
	WholeLineFold bool // folds hide whole lines, the last one too
	FoldLimit     int  // how many folds it takes; 0 for any number

	// Fixes.
	ActionLiterals   bool // actions may be more than commands
	DisabledActions  bool // an action may say why it cannot be taken
	ResolvesEdits    bool // it asks for the edit of an action when that is taken
	PreferredActions bool // one action may be the usual one
	DocumentChanges  bool // an edit may name the versions that it is for
	Annotations      bool // an edit may say what it is for
	CreatesFiles     bool // an edit may make a file

	// What the server may ask of it.
	Configuration  bool // for its settings
	ConfigWatch    bool // to tell when they change
	WatchesFiles   bool // to tell when files on disk change
	FolderChanges  bool // to tell which folders are opened and closed
	Progress       bool // to show how far work is that nobody asked for
	ApplyEdit      bool // to make an edit
	ShowDocument   bool // to show a place in a document, or an address
	RefreshHints   bool // to ask for hints again
	RefreshLenses  bool // to ask for lenses again
	RefreshTokens  bool // to ask for tokens again
	ServesContent  bool // to show documents that the server writes
	TokensAnnounce bool // it takes semantic tokens
}

// AbilitiesOf reads what a client says of itself. Everything in it may be
// missing.
func AbilitiesOf(p *protocol.InitializeParams) Abilities {
	c := &p.Capabilities
	a := Abilities{Encoding: encodingOf(c.General)}
	if t := c.TextDocument; t != nil {
		a.readTextDocument(t)
	}
	if w := c.Workspace; w != nil {
		a.readWorkspace(w)
	}
	if w := c.Window; w != nil {
		a.Progress = yes(w.WorkDoneProgress)
		a.ShowDocument = w.ShowDocument != nil && w.ShowDocument.Support
	}
	// Notes are pulled only by a client that can be told to pull again:
	// else a new export on disk would not be seen.
	refresh := c.Workspace != nil && c.Workspace.Diagnostics != nil && yes(c.Workspace.Diagnostics.RefreshSupport)
	a.Pull = a.Pull && refresh
	a.Images, a.Dark = imagesOf(p.InitializationOptions)
	return a
}

// imagesOf reads the initialization option hoverImages: true, or "light" or
// "dark" for the background that pictures are for.
func imagesOf(options []byte) (images, dark bool) {
	var o struct {
		HoverImages json.RawMessage `json:"hoverImages"`
	}
	if json.Unmarshal(options, &o) != nil {
		return false, false
	}
	switch string(o.HoverImages) {
	case `true`, `"light"`:
		return true, false
	case `"dark"`:
		return true, true
	}
	return false, false
}

// encodingOf picks the unit in which columns are counted: bytes, which cost
// nothing, if the client knows them; UTF-16, which all do, otherwise; UTF-32
// only for a client that prefers it to UTF-16 and knows no bytes.
func encodingOf(g *protocol.GeneralClientCapabilities) text.Encoding {
	if g == nil {
		return text.UTF16
	}
	if slices.Contains(g.PositionEncodings, protocol.PositionEncodingKindUTF8) {
		return text.UTF8
	}
	if len(g.PositionEncodings) > 0 && g.PositionEncodings[0] == protocol.PositionEncodingKindUTF32 {
		return text.UTF32
	}
	return text.UTF16
}

func (a *Abilities) readTextDocument(t *protocol.TextDocumentClientCapabilities) {
	if d := t.PublishDiagnostics; d != nil {
		a.readDiagnostics(&d.DiagnosticsCapabilities)
	}
	if d := t.Diagnostic; d != nil {
		a.Pull = true
		a.RelatedFiles = yes(d.RelatedDocumentSupport)
		if t.PublishDiagnostics == nil || yes(d.RelatedInformation) {
			a.readDiagnostics(&d.DiagnosticsCapabilities)
		}
	}
	if h := t.Hover; h != nil {
		a.Markdown = slices.Contains(h.ContentFormat, protocol.MarkupKindMarkdown)
	}
	if d := t.DocumentSymbol; d != nil {
		a.NestedSymbols = yes(d.HierarchicalDocumentSymbolSupport)
	}
	if f := t.FoldingRange; f != nil {
		a.WholeLineFold = yes(f.LineFoldingOnly)
		if f.RangeLimit != nil {
			a.FoldLimit = int(*f.RangeLimit)
		}
	}
	if c := t.CodeAction; c != nil {
		a.ActionLiterals = len(c.CodeActionLiteralSupport.CodeActionKind.ValueSet) > 0
		a.DisabledActions = yes(c.DisabledSupport)
		a.PreferredActions = yes(c.IsPreferredSupport)
		a.ResolvesEdits = yes(c.DataSupport) && slices.Contains(c.ResolveSupport.Properties, "edit")
		a.Annotations = yes(c.HonorsChangeAnnotations)
	}
	a.TokensAnnounce = len(t.SemanticTokens.Formats) > 0
}

func (a *Abilities) readDiagnostics(d *protocol.DiagnosticsCapabilities) {
	a.RelatedPlaces = yes(d.RelatedInformation)
	a.CodeDescription = yes(d.CodeDescriptionSupport)
	a.NoteData = yes(d.DataSupport)
	a.Unnecessary = slices.Contains(d.TagSupport.ValueSet, protocol.DiagnosticTagUnnecessary)
}

func (a *Abilities) readWorkspace(w *protocol.WorkspaceClientCapabilities) {
	a.Configuration = yes(w.Configuration)
	a.ConfigWatch = w.DidChangeConfiguration != nil && yes(w.DidChangeConfiguration.DynamicRegistration)
	a.WatchesFiles = w.DidChangeWatchedFiles != nil && yes(w.DidChangeWatchedFiles.DynamicRegistration)
	a.FolderChanges = yes(w.WorkspaceFolders)
	a.ApplyEdit = yes(w.ApplyEdit)
	a.RefreshHints = w.InlayHint != nil && yes(w.InlayHint.RefreshSupport)
	a.RefreshLenses = w.CodeLens != nil && yes(w.CodeLens.RefreshSupport)
	a.RefreshTokens = w.SemanticTokens != nil && yes(w.SemanticTokens.RefreshSupport)
	a.ServesContent = w.TextDocumentContent != nil
	if e := w.WorkspaceEdit; e != nil {
		a.DocumentChanges = yes(e.DocumentChanges)
		a.Annotations = a.Annotations && e.ChangeAnnotationSupport != nil
		a.CreatesFiles = a.DocumentChanges && slices.Contains(e.ResourceOperations, protocol.ResourceOperationKindCreate)
	} else {
		a.Annotations = false
	}
}

// yes reports whether an optional ability is there.
func yes(b *bool) bool { return b != nil && *b }
