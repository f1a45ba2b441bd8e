package costmodel

import (
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// An Example is one use of a process with numbers: what is given, all else at its default, and the few results that matter. The results
// were published or reckoned by hand, never taken from this program; a test has the program reckon them.
type Example struct {
	What      string // the thing, in words
	Source    string // of what is published
	Given     []Figure
	Published []Figure
	ByHand    []Figure
}

// A Figure is a quantity of an example. Name is as an expression of an operation has it (part.gauge, bead_speed); of a result Text holds as
// many digits as are meant: the next one is rounded.
type Figure struct {
	Name, Text string
	Number     float64
	Unit       string // as written, "1" for a plain number
}

// exampleFile is the form of an example in a file.
type exampleFile struct {
	What, Source     string
	Given, Published yaml.Node
	ByHand           yaml.Node `yaml:"by hand"`
}

// readExample reads the example of a file, nil where there is none.
func readExample(file string, n *yaml.Node) (*Example, error) {
	if n.IsZero() {
		return nil, nil
	}
	var f exampleFile
	if err := n.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s:%d: example: %w", file, n.Line, err)
	}
	out := &Example{What: f.What, Source: f.Source}
	for _, part := range []struct {
		node *yaml.Node
		into *[]Figure
	}{{&f.Given, &out.Given}, {&f.Published, &out.Published}, {&f.ByHand, &out.ByHand}} {
		for i := 0; i+1 < len(part.node.Content); i += 2 {
			fig, err := readFigure(part.node.Content[i].Value, part.node.Content[i+1].Value)
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", file, part.node.Content[i].Line, err)
			}
			*part.into = append(*part.into, fig)
		}
	}
	if (len(out.Published) > 0) != (out.Source != "") {
		return nil, fmt.Errorf("%s:%d: example: what is published names its source, and nothing else does", file, n.Line)
	}
	return out, nil
}

// readFigure reads "1.5 mm", or "12" of a plain number.
func readFigure(name, text string) (Figure, error) {
	number, unit, spaced := strings.Cut(text, " ")
	f := Figure{Name: name, Text: text, Unit: "1"}
	var err error
	if f.Number, err = strconv.ParseFloat(number, 64); err != nil || spaced && strings.TrimSpace(unit) == "" {
		return f, fmt.Errorf("example: %s is %q; write a number, a blank and its unit", name, text)
	}
	if spaced {
		f.Unit = unit
	}
	return f, nil
}
