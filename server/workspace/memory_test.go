package workspace

import (
	"fmt"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
	"weak"

	"go.lsp.dev/uri"

	"curvelint/parse/text"
)

// TestOlderVersionsAreLetGo: of a text that is edited again and again, each
// version studied or not, only the newest stays in memory.
func TestOlderVersionsAreLetGo(t *testing.T) {
	for _, studied := range []int{1, 3} {
		t.Run(fmt.Sprint("studied each ", studied), func(t *testing.T) {
			s := New()
			defer s.Close()
			u := uri.File(filepath.Join(t.TempDir(), "crank.usda"))
			d := s.Open(u, 1, []byte(crank))
			line := strings.Count(crank[:strings.Index(crank, "12: 30.5")], "\n")
			var old []weak.Pointer[byte] // first bytes of the texts
			for i := range 12 {
				if i%studied == 0 {
					if _, err := s.Shot(t.Context(), d); err != nil {
						t.Fatal(err)
					}
				} else if _, err := s.Read(t.Context(), d); err != nil {
					t.Fatal(err)
				}
				old = append(old, weak.Make(&d.Text()[0]))
				d = s.Change(u, int32(i+2), text.UTF8, []Change{{Start: text.Position{Line: line, Column: 12},
					End: text.Position{Line: line, Column: 16}, Text: fmt.Sprintf("%04d", i)}})
			}
			shot, err := s.Shot(t.Context(), d)
			if err != nil {
				t.Fatal(err)
			}
			kept := 0
			for range 100 { // goroutines that have delivered may still be ending
				runtime.GC()
				kept = 0
				for _, w := range old {
					if w.Value() != nil {
						kept++
					}
				}
				if kept == 0 {
					break
				}
				time.Sleep(10 * time.Millisecond)
			}
			if kept > 0 {
				t.Errorf("%d of %d older versions are still in memory", kept, len(old))
			}
			runtime.KeepAlive(shot)
		})
	}
}
