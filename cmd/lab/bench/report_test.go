package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTable(t *testing.T) {
	var r report
	r.table([]string{"file", "time", "budget"}, [][]string{{"a", "1.5", "met"}, {"b, 64 × 10", "", "**missed**"}})
	want := `| file | time | budget |
| --- | ---: | ---: |
| a | 1.5 | met |
| b, 64 × 10 |  | **missed** |

`
	if d := cmp.Diff(want, string(r.bytes())); d != "" {
		t.Error(d)
	}
}

func TestVerdict(t *testing.T) {
	tests := []struct {
		name string
		hold func(r *report)
		want string
	}{
		{"nothing was held to a budget", func(*report) {}, ""},
		{"all met", func(r *report) {
			r.hold("hover in 5 ms", "BVH", true)
			r.hold("hover in 5 ms", "USD", true)
		}, "## Budgets\n\n2 of 2 are met.\n"},
		{"two of one budget, one of another that nobody knows", func(r *report) {
			r.hold("hover in 5 ms", "BVH, 7 ms", false)
			r.hold("size of a scene", "BVH, 1.2", true)
			r.hold("answers before it is asked", "0 s", false)
			r.hold("hover in 5 ms", "USD, 9 ms", false)
		}, "## Budgets\n\n1 of 4 are met.\n" +
			"\n- **hover in 5 ms** (BVH, 7 ms; USD, 9 ms): " + reasons["hover in 5 ms"] + "\n" +
			"\n- **answers before it is asked** (0 s): no reason known yet; profile it\n"},
	}
	for _, tt := range tests {
		var r report
		tt.hold(&r)
		r.verdict()
		if d := cmp.Diff(tt.want, string(r.bytes())); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
}

func TestHoldSaysWhatStandsInTheTable(t *testing.T) {
	var r report
	if met, missed := r.hold("a", "", true), r.hold("a", "", false); met != "met" || missed != "**missed**" {
		t.Errorf("%q and %q", met, missed)
	}
}

// Every budget that a measurement is held to has its reason, and no reason is left
// over from a budget that is no more.
func TestEveryBudgetHasAReason(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	held := map[string]bool{"hover in 5 ms": true, "symbols in 5 ms": true, "hints in 5 ms": true} // put together in editor.go
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if of, ok := call.Fun.(*ast.SelectorExpr); !ok || of.Sel.Name != "hold" {
				return true
			}
			literal, ok := call.Args[0].(*ast.BasicLit)
			if !ok {
				return true // the budget is a variable; its words stand elsewhere
			}
			budget, err := strconv.Unquote(literal.Value)
			if err != nil {
				t.Fatal(err)
			}
			held[budget] = true
			if reasons[budget] == "" {
				t.Errorf("%s: no reason for the budget %q", name, budget)
			}
			return true
		})
	}
	for budget, why := range reasons {
		if !held[budget] {
			t.Errorf("a reason for %q, which nothing is held to", budget)
		}
		if !strings.Contains(why, "Next: ") && budget != "no faster than linear" {
			t.Errorf("%s: the reason tells no next step: %s", budget, why)
		}
	}
}
