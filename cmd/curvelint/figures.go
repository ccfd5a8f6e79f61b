package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

const figuresLong = `Figures says which figures a scene file has, how large they are and what carries
them, and what each of their parts is taken for: the head, a left arm and its
elbow. What is recognised wrongly, or not at all, is put right in [groups] and
[[figure]] of curvelint.toml.`

func newFigures(std streams) *cobra.Command {
	var fixed string
	c := &cobra.Command{
		Use: "figures [flags] FILE", Short: "Say what the parts of a scene are taken for",
		Long: figuresLong, Example: "  curvelint figures shot.usda",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("figures needs the path of one scene file; see curvelint figures --help")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return runFigures(std.out, fixed, args[0])
		},
	}
	c.Flags().StringVar(&fixed, "config", "", "use this `FILE` instead of looking for curvelint.toml")
	return c
}

func runFigures(w io.Writer, fixed, file string) error {
	study, _, err := loadStudy(&config.Finder{Schema: diagnostics.Schema(), Fixed: fixed}, file)
	if err != nil {
		return err
	}
	figures := study.Figures()
	if len(figures) == 0 {
		return errors.New(file + " has nothing that moves")
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for i, fig := range figures {
		if i > 0 {
			fmt.Fprintln(t)
		}
		writeFigure(t, fig)
	}
	return t.Flush()
}

// writeFigure writes what is known of a figure, a line for each of its groups.
func writeFigure(w io.Writer, fig *motion.Figure) {
	parts := fig.Study().Scene.Parts
	head := parts[fig.Root].Path + ": figure size " + lengthOf(fig)
	if fig.Carrier != scene.NoPart {
		head += ", carried by " + parts[fig.Carrier].Path
	}
	fmt.Fprintln(w, head)
	var other []string
	for _, g := range fig.Groups {
		switch names := partNames(fig, g.Parts); {
		case g.Label.Body != body.NoBody || g.Configured:
			fmt.Fprintf(w, "  %s\t%s\n", g.Name, strings.Join(names, ", "))
		case g.Top() == fig.Root && len(g.Parts) == 1:
			fmt.Fprintf(w, "  root\t%s\n", names[0])
		default:
			other = append(other, names...)
		}
	}
	if len(other) > 0 {
		fmt.Fprintf(w, "  not known\t%s\n", strings.Join(other, ", "))
	}
}

// lengthOf is the size of a figure, in metres where the file says its unit.
func lengthOf(fig *motion.Figure) string {
	if fig.Unit > 0 {
		return words.Metres(fig.Size * fig.Unit)
	}
	return words.Value(fig.Size) + " units of the file"
}

// partNames names parts, with the joint where a limb bends and the end of it;
// tips belong to their bones and are left out.
func partNames(fig *motion.Figure, parts []scene.PartID) []string {
	var names []string
	said := map[string]bool{}
	for _, p := range parts {
		part := &fig.Study().Scene.Parts[p]
		if part.Kind == scene.Tip {
			continue
		}
		name := part.Name
		if what := jointOf(fig.LabelOf(p)); what != "" && !said[what] {
			name += " (" + what + ")"
			said[what] = true
		}
		names = append(names, name)
	}
	return names
}

// jointOf is the trade's word for a joint that checks look for, or "".
func jointOf(l body.Label) string {
	type place struct {
		body body.Body
		at   body.Place
	}
	return map[place]string{
		{body.Arm, body.Lower}: "elbow", {body.Arm, body.End}: "hand",
		{body.Leg, body.Lower}: "knee", {body.Leg, body.End}: "ankle",
	}[place{l.Body, l.Place}]
}
