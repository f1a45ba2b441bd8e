package ooxml

import "strconv"

// A Comment is a note that a person attached to a cell. Of a thread of comments it is the text that programs without
// threads show.
type Comment struct {
	Row, Col     int
	Author, Text string
}

// Comments reads the notes of a sheet.
func (p *Package) Comments(s *Sheet) ([]Comment, error) {
	rels, err := p.relations(s.part)
	if err != nil {
		return nil, err
	}
	var out []Comment
	for _, r := range rels {
		if r.kind != "comments" || !p.Has(r.target) {
			continue
		}
		var authors []string
		err := p.walk(r.target, func(sc *scanner, t *token) error {
			if t.kind != startTag || t.empty {
				return nil
			}
			switch string(t.name) {
			case "author":
				name, err := sc.text("author")
				authors = append(authors, name)
				return err
			case "comment":
				c, err := sc.comment(t, authors)
				if c.Row > 0 {
					out = append(out, c)
				}
				return err
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (s *scanner) comment(t *token, authors []string) (c Comment, err error) {
	ref, _ := t.attr("ref")
	c.Row, c.Col, _ = parseCell(ref)
	id, _ := t.attr("authorId")
	if i, err := strconv.Atoi(id); err == nil && i >= 0 && i < len(authors) {
		c.Author = authors[i]
	}
	c.Text, err = s.richText("comment")
	return c, err
}

// Drawn counts what lies over the cells of a sheet.
type Drawn struct{ Pictures, Shapes, Charts int }

// Drawn counts the pictures, shapes and charts of a sheet.
func (p *Package) Drawn(s *Sheet) (d Drawn, err error) {
	rels, err := p.relations(s.part)
	if err != nil {
		return d, err
	}
	for _, r := range rels {
		if r.kind != "drawing" || !p.Has(r.target) {
			continue
		}
		err := p.walk(r.target, func(_ *scanner, t *token) error {
			if t.kind != startTag {
				return nil
			}
			switch string(t.name) {
			case "pic":
				d.Pictures++
			case "sp", "cxnSp":
				d.Shapes++
			case "graphicFrame":
				d.Charts++
			}
			return nil
		})
		if err != nil {
			return d, err
		}
	}
	return d, nil
}
