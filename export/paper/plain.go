package paper

import (
	"fmt"
	"strings"
)

// Plain is the tree as text: what the paper says to someone who cannot see it.
// It shares nothing with the pages.
func Plain(d Document) string {
	var b strings.Builder
	fmt.Fprintln(&b, d.Title)
	fmt.Fprintf(&b, "%s · %s\n", d.FootLeft, d.FootMiddle)
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "\n== %s ==\n", s.Name)
		plainBlocks(&b, s.Blocks)
	}
	return b.String()
}

func plainBlocks(w *strings.Builder, blocks []Block) {
	for _, b := range blocks {
		switch b := b.(type) {
		case Heading:
			fmt.Fprintf(w, "\n%s %s", strings.Repeat("#", b.Level), bare(b.Text))
			if b.Aside != "" {
				fmt.Fprintf(w, " (%s)", bare(b.Aside))
			}
			w.WriteString("\n")
		case Paragraph:
			fmt.Fprintln(w, bare(b.Text))
		case List:
			for _, item := range b.Items {
				fmt.Fprintf(w, "- %s\n", bare(item))
			}
		case Grid:
			for _, pair := range b.Pairs {
				fmt.Fprintf(w, "%s: %s\n", bare(pair[0]), bare(pair[1]))
			}
		case Table:
			plainTable(w, b)
		case Figure:
			fmt.Fprintf(w, "[figure: %s] %s\n", b.Words, bare(b.Caption))
		case Chips:
			for _, chip := range b {
				fmt.Fprintf(w, "(%s%s)\n", chip.Sign.words(), bare(chip.Text))
			}
		case Columns:
			for _, part := range b.Parts {
				plainBlocks(w, part)
			}
		case Keep:
			plainBlocks(w, b)
		case Signatures:
			for _, under := range b {
				fmt.Fprintf(w, "______ %s\n", bare(under))
			}
		}
	}
}

func plainTable(w *strings.Builder, t Table) {
	for _, row := range t.Rows {
		var cells []string
		for i, cell := range row {
			words := cell.Sign.words() + strings.ReplaceAll(bare(cell.Text), "\n", " / ")
			if cell.Draw != nil {
				words = cell.Words
			}
			if words == "" {
				continue
			}
			if title := t.Columns[i].Title; title != "" {
				words = title + ": " + words
			}
			cells = append(cells, words)
		}
		fmt.Fprintf(w, "| %s\n", strings.Join(cells, " | "))
	}
	if t.Note != "" {
		fmt.Fprintln(w, bare(t.Note))
	}
}
