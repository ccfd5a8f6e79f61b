package feature

import (
	"context"
	"runtime"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// DiagnosticWorkspace answers a client that asks for the notes on all scenes
// in its folders. Files that are as they were when they were judged last are
// not judged again. With a token for partial results each file is reported as
// soon as it is judged, and the answer itself is empty, as the protocol wants it.
func (f *Features) DiagnosticWorkspace(ctx context.Context, p *protocol.WorkspaceDiagnosticParams) (*protocol.WorkspaceDiagnosticReport, error) {
	known := make(map[uri.URI]string, len(p.PreviousResultIds))
	for _, id := range p.PreviousResultIds {
		known[id.URI] = id.Value
	}
	w := &survey{f: f, snapshot: f.session.SnapshotAt(ctx), known: known, token: p.PartialResultToken, sent: map[uri.URI]string{}}
	progress := f.client.Begin(p.WorkDoneToken, "Looking at all scenes")
	defer progress.End("")
	if err := w.judge(ctx, progress); err != nil {
		return nil, err
	}
	rest := w.rest()
	if w.token != nil && len(rest) > 0 {
		w.send(ctx, rest)
		rest = []protocol.WorkspaceDocumentDiagnosticReport{}
	}
	return &protocol.WorkspaceDiagnosticReport{Items: rest}, nil
}

// survey is one look at all scenes.
type survey struct {
	f        *Features
	snapshot *workspace.Snapshot
	known    map[uri.URI]string // result ids that the client has
	token    protocol.ProgressToken

	mu   sync.Mutex
	sent map[uri.URI]string // result ids reported so far
}

// judge judges all files that changed, several at a time.
func (w *survey) judge(ctx context.Context, progress *wire.Progress) error {
	files := w.files()
	next := make(chan string)
	var workers sync.WaitGroup
	done := 0
	for range min(len(files), runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for path := range next {
				u := w.f.session.URIOf(path)
				w.one(ctx, u, path)
				w.mu.Lock()
				done++
				progress.Report(done, len(files))
				w.mu.Unlock()
			}
		})
	}
	for _, path := range files {
		if ctx.Err() != nil {
			break
		}
		next <- path
	}
	close(next)
	workers.Wait()
	return ctx.Err()
}

// files returns the paths of all scenes in the folders, and of the open ones.
func (w *survey) files() []string {
	seen := map[string]bool{}
	var files []string
	add := func(path string) bool {
		if !seen[path] {
			seen[path] = true
			files = append(files, path)
		}
		return true
	}
	for _, folder := range w.f.session.Folders() {
		workspace.Scenes(folder, add)
	}
	for _, d := range w.snapshot.Docs() {
		if !d.IsConfig() {
			add(d.Path)
		}
	}
	return files
}

// one judges a file, open or on disk, and reports it at once if the client
// takes partial results.
func (w *survey) one(ctx context.Context, u uri.URI, path string) {
	if d := w.snapshot.Doc(u); d != nil {
		if _, err := w.f.judging.Ask(ctx, d); err != nil {
			return
		}
	} else if !w.f.judging.Fresh(u) {
		w.f.judging.File(ctx, u, path)
	}
	if w.token == nil || ctx.Err() != nil {
		return
	}
	if item := w.item(u); item != nil {
		w.send(ctx, []protocol.WorkspaceDocumentDiagnosticReport{item})
	}
}

// send reports some files before the answer.
func (w *survey) send(ctx context.Context, items []protocol.WorkspaceDocumentDiagnosticReport) {
	value, err := protocol.Marshal(&protocol.WorkspaceDiagnosticReportPartialResult{Items: items})
	if err == nil {
		err = w.f.client.Progress(ctx, &protocol.ProgressParams{Token: w.token, Value: value})
	}
	w.f.client.Log.UnlessOver(ctx, err)
}

// item returns the report on a file, nil if the client has heard just that in
// this survey.
func (w *survey) item(u uri.URI) protocol.WorkspaceDocumentDiagnosticReport {
	list := w.f.judging.NotesOn(u)
	id := resultID(list)
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.sent[u] == id {
		return nil
	}
	w.sent[u] = id
	var version *int32
	if d := w.snapshot.Doc(u); d != nil {
		version = new(d.Version)
	}
	if w.known[u] == id {
		r := &protocol.WorkspaceUnchangedDocumentDiagnosticReport{URI: u, Version: version}
		r.Kind, r.ResultID = unchanged, id
		return r
	}
	r := &protocol.WorkspaceFullDocumentDiagnosticReport{URI: u, Version: version}
	r.Kind, r.ResultID, r.Items = full, &id, list
	return r
}

// rest reports what has not been reported yet: files on which judging other
// files gave more notes, configurations, and files that are gone.
func (w *survey) rest() []protocol.WorkspaceDocumentDiagnosticReport {
	for _, path := range w.f.judging.Configs() {
		w.f.judging.Config(path)
	}
	all := w.f.judging.Files()
	for u := range w.known {
		all[u] = true
	}
	items := []protocol.WorkspaceDocumentDiagnosticReport{}
	for u := range all {
		if item := w.item(u); item != nil {
			items = append(items, item)
		}
	}
	return items
}
