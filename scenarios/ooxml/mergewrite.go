package ooxml

import (
	"archive/zip"
	"bufio"
	"bytes"
	"io"
	"path"
	"regexp"
	"strconv"
	"strings"
)

// bytesOf writes what is at hand.
func bytesOf(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
}

// content writes one of our parts, a sheet (else nil) with the target's style numbers and the cells that it keeps.
func (m *merge) content(part string, sheet *Sheet) func(io.Writer) error {
	return func(w io.Writer) error {
		data, err := m.ours.part(part)
		if err != nil {
			return err
		}
		if sheet == nil {
			_, err = w.Write(data)
			return err
		}
		data = m.ours.withOwnTexts(data)
		cells := m.cells[sheet.Name]
		if len(cells) == 0 {
			return m.restyle(w, data)
		}
		var styled bytes.Buffer
		if err := m.restyle(&styled, data); err != nil {
			return err
		}
		if data, err = withCells(styled.Bytes(), cells); err != nil {
			return err
		}
		_, err = w.Write(data)
		return err
	}
}

// retarget points the relations of one of our parts to the new names.
func (m *merge) retarget(part string, data []byte) ([]byte, error) {
	all, err := children(data, 0, len(data), "Relationship", 0)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for _, e := range all {
		target, _ := e.attr("Target")
		full := strings.TrimPrefix(target, "/")
		if !strings.HasPrefix(target, "/") {
			full = path.Join(path.Dir(part), target)
		}
		if name := m.renamed[full]; name != "" {
			edits = append(edits, edit{e.from, e.to, setAttr(string(data[e.from:e.to]), "Target", m.seenFrom(part, name))})
		}
	}
	return splice(data, edits), nil
}

// seenFrom writes the name of a part as a target of one of our parts: a drawing of notes beside it as the library wants it,
// which takes a name from the root on for another part and writes both.
func (m *merge) seenFrom(part, name string) string {
	if dir := path.Dir(m.renamed[part]); path.Ext(name) == ".vml" && path.Dir(dir) == path.Dir(path.Dir(name)) {
		return "../" + path.Base(path.Dir(name)) + "/" + path.Base(name)
	}
	return "/" + name
}

// usualPrefix gives the relations namespace the prefix that every spreadsheet program writes in place of the library's,
// for some know the attribute by its name alone.
var usualPrefix = strings.NewReplacer("xmlns:relationships=", "xmlns:r=", " relationships:id=", " r:id=")

// restyle gives the cells, rows and columns of one of our sheets the target's style numbers, and unselects its tab, since
// the target's own selection stays.
func (m *merge) restyle(w io.Writer, data []byte) error {
	s := scanner{data: data}
	out := bufio.NewWriterSize(w, 1<<16)
	at := 0
	for {
		t, err := s.next()
		if err != nil {
			return err
		}
		if t.kind == endOfPart {
			out.Write(data[at:])
			return out.Flush()
		}
		if t.kind != startTag {
			continue
		}
		attr := ""
		switch string(t.name) {
		case "c", "row":
			attr = "s"
		case "col":
			attr = "style"
		case "sheetView":
			from := tagStart(data, s.pos)
			out.Write(data[at:from])
			out.WriteString(strings.Replace(string(data[from:s.pos]), ` tabSelected="1"`, "", 1))
			at = s.pos
		case "drawing":
			from := tagStart(data, s.pos)
			out.Write(data[at:from])
			out.WriteString(usualPrefix.Replace(string(data[from:s.pos])))
			at = s.pos
		}
		if attr == "" {
			continue
		}
		old := t.number(attr, -1)
		if old < 0 || old >= len(m.styleMap) {
			continue
		}
		from := tagStart(data, s.pos)
		i := bytes.Index(data[from:s.pos], []byte(" "+attr+`="`))
		if i < 0 {
			continue
		}
		i += from + len(attr) + 3
		end := i + bytes.IndexByte(data[i:s.pos], '"')
		out.Write(data[at:i])
		out.WriteString(strconv.Itoa(m.styleMap[old]))
		at = end
	}
}

// write copies the target's parts as they are, writes the changed ones in their place and the added ones at the end.
func (m *merge) write(w io.Writer) error {
	z := zip.NewWriter(w)
	for _, f := range m.target.order {
		key := partKey(f.Name)
		if m.drop[key] {
			continue
		}
		if data, ok := m.changed[key]; ok {
			if err := writePart(z, f.Name, declaredUTF8(data)); err != nil {
				return err
			}
			continue
		}
		if err := z.Copy(f); err != nil {
			return err
		}
	}
	for _, a := range m.added {
		w, err := z.CreateHeader(&zip.FileHeader{Name: a.name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if err := a.write(w); err != nil {
			return err
		}
	}
	return z.Close()
}

var declaredEncoding = regexp.MustCompile(`(?i)^(<\?xml[^>]*encoding=["'])utf-16(["'])`)

// declaredUTF8 corrects the declaration of a part that was UTF-16: parts are read and written as UTF-8.
func declaredUTF8(data []byte) []byte {
	return declaredEncoding.ReplaceAll(data, []byte("${1}UTF-8${2}"))
}

func writePart(z *zip.Writer, name string, data []byte) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}
