package server

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/parse/text"
)

// abilities are what a client can do, as far as the server cares.
type abilities struct {
	encoding text.Encoding

	// Notes.
	pull            bool // the client asks for notes and can be told to ask again
	relatedPlaces   bool
	relatedFiles    bool // a report may tell of other files too
	codeDescription bool
	unnecessary     bool
	noteData        bool

	// What is shown.
	markdown      bool
	images        bool // hover may hold pictures as data addresses
	dark          bool // and they are for a dark background
	nestedSymbols bool
	wholeLineFold bool
	foldLimit     int

	// Fixes.
	actionLiterals   bool
	disabledActions  bool
	resolvesEdits    bool
	preferredActions bool
	documentChanges  bool
	annotations      bool
	createsFiles     bool

	// What the server may ask of the client.
	configuration  bool
	configWatch    bool // configuration changes can be registered for
	watchesFiles   bool
	folderChanges  bool
	progress       bool
	applyEdit      bool
	showDocument   bool
	refreshHints   bool
	refreshLenses  bool
	refreshTokens  bool
	servesContent  bool // the client shows documents that the server writes
	tokensAnnounce bool
}

// abilitiesOf reads what a client says of itself. Everything in it may be
// missing.
func abilitiesOf(p *protocol.InitializeParams) abilities {
	c := &p.Capabilities
	a := abilities{encoding: encodingOf(c.General)}
	if t := c.TextDocument; t != nil {
		a.readTextDocument(t)
	}
	if w := c.Workspace; w != nil {
		a.readWorkspace(w)
	}
	if w := c.Window; w != nil {
		a.progress = yes(w.WorkDoneProgress)
		a.showDocument = w.ShowDocument != nil && w.ShowDocument.Support
	}
	// Notes are pulled only by a client that can be told to pull again:
	// else a new export on disk would not be seen.
	refresh := c.Workspace != nil && c.Workspace.Diagnostics != nil && yes(c.Workspace.Diagnostics.RefreshSupport)
	a.pull = a.pull && refresh
	a.images, a.dark = imagesOf(p.InitializationOptions)
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

func (a *abilities) readTextDocument(t *protocol.TextDocumentClientCapabilities) {
	if d := t.PublishDiagnostics; d != nil {
		a.readDiagnostics(&d.DiagnosticsCapabilities)
	}
	if d := t.Diagnostic; d != nil {
		a.pull = true
		a.relatedFiles = yes(d.RelatedDocumentSupport)
		if t.PublishDiagnostics == nil || yes(d.RelatedInformation) {
			a.readDiagnostics(&d.DiagnosticsCapabilities)
		}
	}
	if h := t.Hover; h != nil {
		a.markdown = slices.Contains(h.ContentFormat, protocol.MarkupKindMarkdown)
	}
	if d := t.DocumentSymbol; d != nil {
		a.nestedSymbols = yes(d.HierarchicalDocumentSymbolSupport)
	}
	if f := t.FoldingRange; f != nil {
		a.wholeLineFold = yes(f.LineFoldingOnly)
		if f.RangeLimit != nil {
			a.foldLimit = int(*f.RangeLimit)
		}
	}
	if c := t.CodeAction; c != nil {
		a.actionLiterals = len(c.CodeActionLiteralSupport.CodeActionKind.ValueSet) > 0
		a.disabledActions = yes(c.DisabledSupport)
		a.preferredActions = yes(c.IsPreferredSupport)
		a.resolvesEdits = yes(c.DataSupport) && slices.Contains(c.ResolveSupport.Properties, "edit")
		a.annotations = yes(c.HonorsChangeAnnotations)
	}
	a.tokensAnnounce = len(t.SemanticTokens.Formats) > 0
}

func (a *abilities) readDiagnostics(d *protocol.DiagnosticsCapabilities) {
	a.relatedPlaces = yes(d.RelatedInformation)
	a.codeDescription = yes(d.CodeDescriptionSupport)
	a.noteData = yes(d.DataSupport)
	a.unnecessary = slices.Contains(d.TagSupport.ValueSet, protocol.DiagnosticTagUnnecessary)
}

func (a *abilities) readWorkspace(w *protocol.WorkspaceClientCapabilities) {
	a.configuration = yes(w.Configuration)
	a.configWatch = w.DidChangeConfiguration != nil && yes(w.DidChangeConfiguration.DynamicRegistration)
	a.watchesFiles = w.DidChangeWatchedFiles != nil && yes(w.DidChangeWatchedFiles.DynamicRegistration)
	a.folderChanges = yes(w.WorkspaceFolders)
	a.applyEdit = yes(w.ApplyEdit)
	a.refreshHints = w.InlayHint != nil && yes(w.InlayHint.RefreshSupport)
	a.refreshLenses = w.CodeLens != nil && yes(w.CodeLens.RefreshSupport)
	a.refreshTokens = w.SemanticTokens != nil && yes(w.SemanticTokens.RefreshSupport)
	a.servesContent = w.TextDocumentContent != nil
	if e := w.WorkspaceEdit; e != nil {
		a.documentChanges = yes(e.DocumentChanges)
		a.annotations = a.annotations && e.ChangeAnnotationSupport != nil
		a.createsFiles = a.documentChanges && slices.Contains(e.ResourceOperations, protocol.ResourceOperationKindCreate)
	} else {
		a.annotations = false
	}
}

// yes reports whether an optional ability is there.
func yes(b *bool) bool { return b != nil && *b }
