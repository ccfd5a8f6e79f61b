package judging

import (
	"context"
	"slices"
	"time"

	"curvelint/diagnostics/passes"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

const (
	// comparePatience is how long hover and lenses wait for a comparison; they do
	// without it then, and lenses are asked for again when it is there.
	comparePatience = 100 * time.Millisecond
	// comparePause is how long a comparison waits for the next edit.
	comparePause = 300 * time.Millisecond
)

// SinceEarlier returns a scene held against its earlier pass; nil when it has
// none, when the two cannot be compared, or when that takes long. The comparison
// is then made in the background.
func (j *Judging) SinceEarlier(ctx context.Context, shot *workspace.Shot) *passes.Comparison {
	if c, known := j.session.Compared(shot); known {
		return c
	}
	if j.client.Abilities.RefreshLenses {
		j.compareSoon(shot)
		short, cancel := context.WithTimeout(ctx, comparePatience)
		defer cancel()
		ctx = short
	}
	c, err := j.session.Compare(ctx, shot)
	if err != nil {
		j.client.Log.UnlessOver(ctx, err)
		return nil
	}
	return c
}

// compareSoon compares a scene with its earlier pass in the background, unless
// an edit comes, and lets the client ask for lenses again.
func (j *Judging) compareSoon(shot *workspace.Shot) {
	j.client.Background.GoLatest("compare "+string(shot.Doc.URI), func(ctx context.Context) {
		if !wire.Sleep(ctx, comparePause) || !j.session.Current(shot.Doc) {
			return
		}
		if _, err := j.session.Compare(ctx, shot); err != nil {
			j.client.Log.UnlessOver(ctx, err)
			return
		}
		j.client.Log.UnlessOver(ctx, j.client.CodeLensRefresh(ctx))
	})
}

// earlierChanged lets the client ask for lenses again when one of the changed
// files is the earlier pass of an open scene.
func (j *Judging) earlierChanged(changed []string) {
	if !j.client.Abilities.RefreshLenses {
		return
	}
	for _, d := range j.session.Snapshot().Docs() {
		if path, ok := j.session.EarlierPath(d); ok && slices.Contains(changed, path) {
			j.client.Background.GoLatest("lenses "+string(d.URI), func(ctx context.Context) {
				if wire.Sleep(ctx, comparePause) {
					j.client.Log.UnlessOver(ctx, j.client.CodeLensRefresh(ctx))
				}
			})
			return // one refresh is for all
		}
	}
}
