package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
)

// quiet is how long nothing must change before files are checked again, so that
// an export is read when it is complete rather than while it is written.
const quiet = 250 * time.Millisecond

// watch checks files again when they, files that they are made of, or their
// configuration change, until the context ends.
func (k *checker) watch(ctx context.Context, args []string, done []outcome) error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("--watch: %w", err)
	}
	defer w.Close()
	known := map[string]outcome{}
	for _, o := range done {
		known[o.input.path] = o
	}
	for {
		if err := follow(w, args, known); err != nil {
			return fmt.Errorf("--watch: %w", err)
		}
		changed, err := nextChanges(ctx, w)
		if err != nil {
			return fmt.Errorf("--watch: %w", err)
		}
		if len(changed) == 0 {
			return nil
		}
		if err := k.again(ctx, args, known, changed); err != nil {
			return err
		}
	}
}

// follow watches the folders of everything that could change the notes.
// Folders rather than files, because most programs replace a file by another of
// its name.
func follow(w *fsnotify.Watcher, args []string, known map[string]outcome) error {
	folders := map[string]bool{}
	for _, o := range known {
		for _, path := range o.reads {
			folders[filepath.Dir(path)] = true
		}
		if o.config != nil && o.config.Path != "" {
			folders[filepath.Dir(o.config.Path)] = true
		}
	}
	for _, arg := range args {
		info, err := os.Stat(arg)
		if err != nil || !info.IsDir() {
			folders[filepath.Dir(arg)] = true
			continue
		}
		for _, name := range subfolders(arg) {
			folders[name] = true
		}
	}
	watched := 0
	var last error
	for _, name := range slices.Sorted(maps.Keys(folders)) {
		if last = w.Add(name); last == nil {
			watched++
		}
	}
	if watched == 0 && last != nil {
		return fmt.Errorf("nothing can be watched: %w", last)
	}
	return nil
}

// subfolders returns a folder and those below it that are not hidden.
func subfolders(root string) []string {
	var found []string
	// What cannot be read has been said when the files were looked for.
	_ = fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return nil
		}
		if name != "." && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		found = append(found, filepath.Join(root, filepath.FromSlash(name)))
		return nil
	})
	return found
}

// nextChanges waits for changes and for quiet after them, and returns the paths
// that changed, made absolute. None means that the context has ended.
func nextChanges(ctx context.Context, w *fsnotify.Watcher) (map[string]bool, error) {
	changed := map[string]bool{}
	timer := time.NewTimer(time.Hour)
	timer.Stop()
	defer timer.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil, nil
		case <-timer.C:
			return changed, nil
		case e, ok := <-w.Events:
			if !ok {
				return nil, nil
			}
			if e.Has(fsnotify.Chmod) && e.Op == fsnotify.Chmod {
				continue
			}
			changed[absolute(e.Name)] = true
			timer.Reset(quiet)
		case err, ok := <-w.Errors:
			if !ok {
				return nil, nil
			}
			if !errors.Is(err, fsnotify.ErrEventOverflow) {
				return nil, err
			}
			changed[everything] = true
			timer.Reset(quiet)
		}
	}
}

// everything stands for more changes than could be told.
const everything = ""

func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}

// again checks what the changes touch and brings known up to date.
func (k *checker) again(ctx context.Context, args []string, known map[string]outcome, changed map[string]bool) error {
	k.failed = false
	inputs := k.expandAgain(args, known)
	all := changed[everything]
	for path := range changed {
		all = all || filepath.Base(path) == config.FileName || path == absolute(k.options.config) && k.options.config != ""
	}
	if all {
		k.finder.Forget()
	}
	var stale []input
	present := map[string]bool{}
	for _, in := range inputs {
		present[in.path] = true
		o, ok := known[in.path]
		touched := slices.ContainsFunc(o.reads, func(p string) bool { return changed[absolute(p)] })
		if all || !ok || touched {
			stale = append(stale, in)
		}
	}
	gone := k.forget(known, present)
	if len(stale) == 0 && !gone {
		return nil
	}
	var fresh []outcome
	for o := range k.all(ctx, stale) {
		known[o.input.path] = o
		fresh = append(fresh, o)
	}
	if ctx.Err() != nil {
		return nil
	}
	return k.show(inputs, known, fresh)
}

// expandAgain is expand for one more time: what is not there is said once, until
// it is there again, and of files that were checked forget tells.
func (k *checker) expandAgain(args []string, known map[string]outcome) []input {
	was := k.missing
	k.missing = map[string]bool{}
	for path := range was {
		if _, err := os.Stat(path); err != nil {
			k.missing[path] = true
		}
	}
	for path := range known {
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
			k.missing[path] = true
		}
	}
	return k.expand(args)
}

// fewGone is how many files that are gone are told one by one.
const fewGone = 12

// forget drops the outcomes of files that are no longer there and says so. It
// reports whether there were any.
func (k *checker) forget(known map[string]outcome, present map[string]bool) bool {
	var lost []string
	for _, path := range slices.Sorted(maps.Keys(known)) {
		if !present[path] {
			lost = append(lost, goneLine(known[path]))
			delete(known, path)
		}
	}
	if len(lost) > fewGone {
		lost = []string{words.Count(len(lost), "file") + " are gone, and their notes with them"}
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, line := range lost {
		fmt.Fprintln(k.std.err, line)
	}
	return len(lost) > 0
}

// goneLine says that a file that was checked is no longer there.
func goneLine(o outcome) string {
	path := report.Visible(o.input.path)
	notes := 0
	if o.file != nil {
		notes = len(o.file.Notes)
	}
	switch notes {
	case 0:
		return path + " is gone"
	case 1:
		return path + " is gone, and its note with it"
	}
	return path + " is gone, and its " + words.Count(notes, "note") + " with it"
}

// show writes a file of notes anew with everything in it; on standard output it
// adds the notes of what is fresh.
func (k *checker) show(inputs []input, known map[string]outcome, fresh []outcome) error {
	var all []outcome
	for _, in := range inputs {
		if o, ok := known[in.path]; ok {
			all = append(all, o)
		}
	}
	shown := fresh
	if k.options.output != "" {
		shown = all
	}
	err := k.write(func(show func(*outcome) error) ([]outcome, error) {
		for i := range shown {
			if err := show(&shown[i]); err != nil {
				return nil, err
			}
		}
		return all, nil
	})
	if err == nil {
		k.summarize(shown, all)
	}
	return err
}
