package command

import (
	"context"
	"net/url"
	"path/filepath"
	"strings"
	"sync"

	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/diagnostics/page"
	"curvelint/diagnostics/words"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// pages are the pages of scenes that were opened in a browser, by scene. Each is
// served on this machine until the session ends, and follows the scene.
type pages struct {
	mu   sync.Mutex
	live map[uri.URI]*livePage
}

type livePage struct {
	page.Live
	address string
}

// paged is what a page command gives back.
type paged struct {
	Address string `json:"address"`
}

// openPage shows a scene as a page in the browser.
func (c *Commands) openPage(ctx context.Context, raw []byte) (any, error) {
	var a show.PageArguments
	if err := show.ReadArguments(raw, &a, `{"uri": ..., "frame": 1036, "part": "/Tug/hips", "check": "even-spacing"}`); err != nil {
		return nil, err
	}
	shot, err := c.features.OpenShot(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	p, err := c.pageOf(ctx, shot)
	if err != nil {
		return nil, err
	}
	address := p.address + pagePlace(&a)
	return paged{address}, c.client.Browse(ctx, address)
}

// pagePlace is where a page opens, as it is written behind its address.
func pagePlace(a *show.PageArguments) string {
	var said []string
	if a.Frame != 0 {
		said = append(said, "frame="+words.Frame(a.Frame))
	}
	for _, w := range [][2]string{{"part", a.Part}, {"check", a.Check}} {
		if w[1] != "" {
			said = append(said, w[0]+"="+url.QueryEscape(w[1]))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "#" + strings.Join(said, "&")
}

// pageOf returns the page of a scene, which is served from now on.
func (c *Commands) pageOf(ctx context.Context, shot *workspace.Shot) (*livePage, error) {
	encoded, err := c.encodePage(ctx, shot)
	if err != nil {
		return nil, err
	}
	c.pages.mu.Lock()
	defer c.pages.mu.Unlock()
	p := c.pages.live[shot.Doc.URI]
	if p == nil {
		on, err := page.Listen(0)
		if err != nil {
			return nil, err
		}
		p = &livePage{address: "http://" + on.Addr().String() + "/"}
		if c.pages.live == nil {
			c.pages.live = map[uri.URI]*livePage{}
		}
		c.pages.live[shot.Doc.URI] = p
		c.client.Background.Go(func(ctx context.Context) { c.client.Log.UnlessOver(ctx, p.Serve(ctx, on)) })
	}
	p.Show(filepath.Base(shot.Doc.Path), encoded)
	return p, nil
}

// encodePage writes what the page of a scene shows, with the earlier pass if
// there is one.
func (c *Commands) encodePage(ctx context.Context, shot *workspace.Shot) (encoded page.Encoded, err error) {
	both := page.Shot{Study: shot.Study, Notes: shot.Notes}
	if before := c.session.EarlierShot(ctx, shot); before != nil {
		both.Before, both.BeforeNotes = before.Study, before.Notes
	}
	fault := diagnostics.Guard("the page of "+shot.Doc.Path, func() { encoded, err = page.Encode(ctx, &both) })
	if fault != nil {
		return nil, fault
	}
	return encoded, err
}

// FollowPage brings the page of a scene, if one was opened, up to date in the
// background.
func (c *Commands) FollowPage(shot *workspace.Shot) {
	c.pages.mu.Lock()
	p := c.pages.live[shot.Doc.URI]
	c.pages.mu.Unlock()
	if p == nil {
		return
	}
	c.client.Background.GoLatest("page "+string(shot.Doc.URI), func(ctx context.Context) {
		encoded, err := c.encodePage(ctx, shot)
		switch {
		case ctx.Err() != nil:
		case err != nil:
			p.Fail(err.Error())
		default:
			p.Show(filepath.Base(shot.Doc.Path), encoded)
			if shot.Broken() {
				p.Fail("the file looks half written")
			}
		}
	})
}
