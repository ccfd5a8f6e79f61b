package workspace

import (
	"context"

	"go.lsp.dev/uri"
)

// arrivalKey is the key of the texts as they stood when a call arrived.
type arrivalKey struct{}

// Arrived returns a context in which the open texts are those of now, whatever the
// client sends later.
func (s *Session) Arrived(ctx context.Context) context.Context {
	return context.WithValue(ctx, arrivalKey{}, s.Snapshot())
}

// SnapshotAt returns the texts as they stood when the call of ctx arrived.
func (s *Session) SnapshotAt(ctx context.Context) *Snapshot {
	if at, ok := ctx.Value(arrivalKey{}).(*Snapshot); ok {
		return at
	}
	return s.Snapshot()
}

// ShotAt returns the study of an open scene, as it stood when the call of ctx
// arrived; nil without an error when the text is not open or is no scene.
func (s *Session) ShotAt(ctx context.Context, u uri.URI) (*Shot, error) {
	d := s.SnapshotAt(ctx).Doc(u)
	if d == nil || d.IsConfig() {
		return nil, nil
	}
	return s.Shot(ctx, d)
}

// ReadAt returns the scene of an open text, which is there sooner than its
// study; nil without an error when the text is not open or is no scene.
func (s *Session) ReadAt(ctx context.Context, u uri.URI) (*Read, error) {
	d := s.SnapshotAt(ctx).Doc(u)
	if d == nil || d.IsConfig() {
		return nil, nil
	}
	return s.Read(ctx, d)
}
