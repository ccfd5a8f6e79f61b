package server

import (
	"context"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/page"
	"curvelint/diagnostics/words"
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

// pageArguments name a scene and, perhaps, where its page opens: at a frame, with
// a part or a note chosen.
type pageArguments struct {
	URI   uri.URI `json:"uri"`
	Frame float64 `json:"frame"`
	Part  string  `json:"part"`
	Check string  `json:"check"`
}

// paged is what a page command gives back.
type paged struct {
	Address string `json:"address"`
}

// openPage shows a scene as a page in the browser.
func (s *Server) openPage(ctx context.Context, raw []byte) (any, error) {
	var a pageArguments
	if err := arguments(raw, &a, `{"uri": ..., "frame": 1036, "part": "/Tug/hips", "check": "even-spacing"}`); err != nil {
		return nil, err
	}
	shot, err := s.sceneOf(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	p, err := s.pageOf(ctx, shot)
	if err != nil {
		return nil, err
	}
	address := p.address + a.place()
	return paged{address}, s.openExternal(ctx, address)
}

// place is where a page opens, as it is written behind its address.
func (a *pageArguments) place() string {
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
func (s *Server) pageOf(ctx context.Context, shot *workspace.Shot) (*livePage, error) {
	encoded, err := s.encodePage(ctx, shot)
	if err != nil {
		return nil, err
	}
	s.pages.mu.Lock()
	defer s.pages.mu.Unlock()
	p := s.pages.live[shot.Doc.URI]
	if p == nil {
		on, err := page.Listen(0)
		if err != nil {
			return nil, err
		}
		p = &livePage{address: "http://" + on.Addr().String() + "/"}
		if s.pages.live == nil {
			s.pages.live = map[uri.URI]*livePage{}
		}
		s.pages.live[shot.Doc.URI] = p
		s.background(func(ctx context.Context) { s.logUnlessOver(ctx, p.Serve(ctx, on)) })
	}
	p.Show(filepath.Base(shot.Doc.Path), encoded)
	return p, nil
}

// encodePage writes what the page of a scene shows, with the earlier pass if
// there is one.
func (s *Server) encodePage(ctx context.Context, shot *workspace.Shot) (encoded page.Encoded, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("the page of %s failed: %v", shot.Doc.Path, fault)
		}
	}()
	show := page.Shot{Study: shot.Study, Notes: shot.Notes}
	if before := s.session.EarlierShot(ctx, shot); before != nil {
		show.Before, show.BeforeNotes = before.Study, before.Notes
	}
	return page.Encode(ctx, &show)
}

// followPage brings the page of a scene, if one was opened, up to date in the
// background.
func (s *Server) followPage(shot *workspace.Shot) {
	s.pages.mu.Lock()
	p := s.pages.live[shot.Doc.URI]
	s.pages.mu.Unlock()
	if p == nil {
		return
	}
	ctx, done := s.busy.begin(s.session.Lifetime(), taskOf("page", shot.Doc.URI))
	s.background(func(context.Context) {
		defer done()
		encoded, err := s.encodePage(ctx, shot)
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

// openExternal shows an address in the browser; a client that does not tells the
// person where it is.
func (s *Server) openExternal(ctx context.Context, address string) error {
	u, err := uri.Parse(address) // written as URIs are
	if err != nil {
		return err
	}
	answer, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: u, External: new(true)})
	if err == nil && answer != nil && answer.Success {
		return nil
	}
	s.logUnlessOver(ctx, err)
	return s.client.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: "open " + address})
}
