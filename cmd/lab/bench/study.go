package main

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// study measures the study and the checks against reading the same file, and
// an edit of one number against doing all of that again.
func (b *bench) study() error {
	b.out.text("\n## Studying and checking\n\nMilliseconds, best / median, from the scene to the notes, beside reading the same file; on one core of processor time.\n" +
		"Budget: study and all checks together cost less than twice the reading, from 128 × 10,000 on.\n")
	sizes := [][2]int{{32, 500}, {64, 10000}, {128, 10000}}
	if b.quick {
		sizes = [][2]int{{16, 200}}
	}
	var rows [][]string
	for _, f := range []format{asUSDA, asBVH} {
		for _, size := range sizes {
			src, err := f.bake(size[0], size[1])
			if err != nil {
				return err
			}
			for _, cores := range []int{1, runtime.NumCPU()} {
				row, err := b.studied(f, size, src, cores)
				if err != nil {
					return err
				}
				rows = append(rows, row)
			}
		}
	}
	b.out.table([]string{"joints × frames", "cores", "reading", "study alone", "study and checks", "notes", "to reading", "budget"}, rows)
	return nil
}

func (b *bench) studied(f format, size [2]int, src []byte, cores int) ([]string, error) {
	cfg := &config.Config{}
	sc := parse.Parse("bake."+f.extension, src, scene.ReadOptions{})
	notes := 0
	how := timed
	if cores == 1 {
		how = alone
	}
	judge := how(func() {
		study, _ := diagnostics.Judge{Config: cfg}.Study(sc)
		notes = len(diagnostics.Judge{Config: cfg, Selection: diagnostics.Selection{}}.Notes(context.Background(), study).Notes)
	})
	t, err := race(max(3, b.rounds/2), reading(how, f, src), how(func() { diagnostics.Judge{Config: cfg}.Study(sc) }), judge)
	if err != nil {
		return nil, err
	}
	budget := ""
	what := fmt.Sprintf("%s, %d × %d, %s", f.name, size[0], size[1], megabytes(len(src)))
	if size[0] >= 128 {
		budget = b.out.hold("study and checks within twice the reading", fmt.Sprintf("%s, %d cores", what, cores), better(t[0], t[2]) >= 0.5)
	}
	return []string{what, fmt.Sprint(cores), times(t[0]), times(t[1]), times(t[2]), fmt.Sprint(notes), share(t[2], t[0]), budget}, nil
}

// share says how many times as long a takes as b.
func share(a, b timing) string {
	return fmt.Sprintf("%.2g× / %.2g×", float64(a.best)/float64(b.best), float64(a.median)/float64(b.median))
}

// seconds is a duration for people.
func seconds(d time.Duration) string { return fmt.Sprintf("%.2f s", d.Seconds()) }
