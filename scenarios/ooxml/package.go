package ooxml

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"path"
	"runtime/debug"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits on what a package may unpack to: far above any honest workbook, far below what fills a machine.
const (
	MaxPart  = 192 << 20 // bytes of one part
	MaxParts = 20000     // entries of the zip
	MaxCells = 3_000_000 // filled cells of one sheet

	maxRelations = 100_000  // of one part
	maxMerged    = 1 << 20  // merged ranges of one sheet
	maxText      = 16 << 20 // bytes of one text or formula; spreadsheet programs take 32,767 characters (ECMA-376 part 1, 18.4.12)
	maxDirectory = 16 << 20 // bytes of the zip's directory
	maxMemory    = 448 << 20
)

// A Package is an open workbook.
type Package struct {
	Sheets   []Sheet
	Date1904 bool

	files   map[string]*zip.File // by part name in lower case, without a leading slash
	order   []*zip.File
	size    uint64 // of the zip, in bytes
	styles  []Style
	formats []int          // numbers of the formats of cell styles, as styles
	codes   map[int]string // of number formats
	strings []string
	trusted bool              // made by this program: no limits
	kept    memory            // of the shared strings and the sheets that were read
	sheets  map[string]memory // what each sheet that was read takes of it, by part
}

// A Sheet is a sheet's name and part; Kind is worksheet, chartsheet, ...
type Sheet struct {
	Name   string
	Kind   string
	Hidden bool
	part   string
}

// A Style is what the number format of a cell means.
type Style struct{ Percent, Date bool }

// Open reads a package of the given size. The error says in one line what is wrong with it.
func Open(r io.ReaderAt, size int64) (*Package, error) {
	in := &directoryReader{r: r, left: maxDirectory}
	z, err := zip.NewReader(in, size)
	in.left = math.MaxInt64
	switch {
	case errors.Is(err, errDirectory):
		return nil, errDirectory
	case err != nil:
		return nil, notZip(io.NewSectionReader(r, 0, size))
	case len(z.File) > MaxParts:
		return nil, fmt.Errorf("it has %d parts, more than %d", len(z.File), MaxParts)
	}
	p := &Package{files: map[string]*zip.File{}, size: uint64(size), sheets: map[string]memory{}}
	for _, f := range z.File {
		name := partKey(f.Name)
		if strings.HasSuffix(name, "/") { // a folder, which general zip programs list: the name of no part ends so (ECMA-376 part 2)
			continue
		}
		if _, twice := p.files[name]; twice {
			return nil, fmt.Errorf("it holds the part %s twice", shown(f.Name))
		}
		p.files[name] = f
		p.order = append(p.order, f)
	}
	if p.Has("EncryptedPackage") {
		return nil, ErrPassword
	}
	if err := p.workbook(); err != nil {
		return nil, err
	}
	return p, nil
}

// OpenOwn is Open for a package that this program has just made, of whatever size.
func OpenOwn(r io.ReaderAt, size int64) (*Package, error) {
	p, err := Open(r, size)
	if err == nil {
		p.trusted = true
	}
	return p, err
}

// most is the limit on a part's bytes.
func (p *Package) most() uint64 {
	if p.trusted {
		return math.MaxInt64 - bytes.MinRead - 1
	}
	return MaxPart
}

// A directoryReader reads the directory of a zip, up to a bound: one of millions of entries takes more memory than bytes.
type directoryReader struct {
	r    io.ReaderAt
	left int64
}

var errDirectory = fmt.Errorf("its list of parts is longer than %d MB", maxDirectory>>20)

func (d *directoryReader) ReadAt(p []byte, off int64) (int, error) {
	if d.left -= int64(len(p)); d.left < 0 {
		return 0, errDirectory
	}
	return d.r.ReadAt(p, off)
}

// ErrPassword is the error of a workbook that only a password opens.
var ErrPassword = errors.New("it is protected by a password")

// notZip says what a file is that is no zip. A workbook with a password is a compound file with a stream of the name
// EncryptedPackage in UTF-16 (MS-OFFCRYPTO, 2.3.4; the mark of compound files: MS-CFB, 2.2).
func notZip(r io.Reader) error {
	const most = 64 << 20 // bytes searched for the name
	in := bufio.NewReaderSize(io.LimitReader(r, most), 1<<16)
	if head, _ := in.Peek(8); !bytes.Equal(head, []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")) {
		return errors.New("it is no zip package, or a broken one")
	}
	name := []byte(strings.Join(strings.Split("EncryptedPackage", ""), "\x00"))
	for {
		window, err := in.Peek(1 << 16)
		if bytes.Contains(window, name) {
			return ErrPassword
		}
		if err != nil {
			return errors.New("it is a workbook of the old binary kind (.xls), or another compound file")
		}
		in.Discard(len(window) - len(name)) // the name may lie across the end
	}
}

// partKey is the name by which a part is known: parts are named without regard to case.
func partKey(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// part unpacks a part, as UTF-8.
func (p *Package) part(name string) ([]byte, error) {
	f := p.files[strings.ToLower(name)]
	switch {
	case f == nil:
		return nil, fmt.Errorf("the part %s is missing", shown(name))
	case f.UncompressedSize64 > p.most():
		return nil, fmt.Errorf("the part %s unpacks to %d MB, more than %d MB", shown(name), f.UncompressedSize64>>20, MaxPart>>20)
	case f.Flags&1 != 0:
		return nil, ErrPassword
	case !p.trusted && p.used()+memory(f.UncompressedSize64) > maxMemory:
		return nil, errMemory
	}
	if f.UncompressedSize64 > 16<<20 {
		debug.FreeOSMemory() // else what earlier parts left lies about until it is as much as what is kept
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("the part %s can't be unpacked", shown(name))
	}
	defer r.Close()
	const tightest = 1032 // deflate's best ratio: a size beyond it is a lie
	var data bytes.Buffer
	data.Grow(int(min(f.UncompressedSize64, min(f.CompressedSize64, p.size)*tightest, p.most())) + bytes.MinRead)
	_, err = data.ReadFrom(io.LimitReader(r, int64(p.most())+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the part %s is broken", shown(name))
	case uint64(data.Len()) > p.most():
		return nil, fmt.Errorf("the part %s unpacks to more than %d MB", shown(name), MaxPart>>20)
	case data.Len() > MaxPart/6 && isUTF16(data.Bytes()): // as UTF-8 it is up to one and a half times as long
		return nil, fmt.Errorf("the part %s unpacks to %d MB of UTF-16, more than %d MB", shown(name), data.Len()>>20, MaxPart/6>>20)
	}
	return utf8Of(data.Bytes()), nil
}

// xml unpacks a part that is to be scanned. Only UTF-8 and UTF-16 are allowed in a package (ECMA-376 part 2).
func (p *Package) xml(name string) ([]byte, error) {
	data, err := p.part(name)
	if err == nil && !utf8.Valid(data) {
		return nil, fmt.Errorf("the part %s is neither UTF-8 nor UTF-16", shown(name))
	}
	return data, err
}

// A relation leads from a part to another.
type relation struct{ id, kind, target string }

// relations reads the relations of a part; a part without any has none.
func (p *Package) relations(name string) ([]relation, error) {
	dir, base := path.Split(name)
	rels := path.Join(dir, "_rels", base+".rels")
	if !p.Has(rels) {
		return nil, nil
	}
	var out []relation
	err := p.walk(rels, func(_ *scanner, t *token) error {
		if t.kind != startTag || string(t.name) != "Relationship" {
			return nil
		}
		if mode, _ := t.attr("TargetMode"); mode == "External" {
			return nil
		}
		if len(out) == maxRelations {
			return fmt.Errorf("the part %s has more than %d relations", shown(rels), maxRelations)
		}
		out = append(out, relationOf(t, dir))
		return nil
	})
	return out, err
}

// relationOf reads a relation of a part in a folder.
func relationOf(t *token, dir string) relation {
	id, _ := t.attr("Id")
	kind, _ := t.attr("Type")
	target, _ := t.attr("Target")
	target = strings.ReplaceAll(target, `\`, "/")
	if !strings.HasPrefix(target, "/") {
		target = path.Join("/", dir, target)
	}
	return relation{id, kind[strings.LastIndex(kind, "/")+1:], strings.TrimPrefix(path.Clean(target), "/")}
}

// walk calls visit for every tag of a part; visit may read on.
func (p *Package) walk(name string, visit func(*scanner, *token) error) error {
	data, err := p.xml(name)
	if err != nil {
		return err
	}
	return tags(data, name, visit)
}

func tags(data []byte, name string, visit func(*scanner, *token) error) error {
	s := scanner{data: data}
	var t token // one for all: each would be set aside anew
	for {
		var err error
		t, err = s.next()
		if err == nil && t.kind == endOfPart {
			err = s.whole()
		}
		switch {
		case err != nil:
			return broken(name, err)
		case t.kind == endOfPart:
			return nil
		case t.kind == text:
			continue
		}
		if err := visit(&s, &t); err != nil {
			return err
		}
	}
}

func broken(name string, err error) error {
	return fmt.Errorf("the part %s is broken: %w", shown(name), err)
}

// shown makes a name from the file fit for a line of text: no line breaks or other control characters, not endless.
func shown(name string) string {
	const most = 100
	out := []rune(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, name[:min(len(name), utf8.UTFMax*most)]))
	return string(out[:min(len(out), most)])
}

// workbook reads the list of sheets, the styles and the shared strings.
func (p *Package) workbook() error {
	main, err := p.mainPart()
	if err != nil {
		return err
	}
	rels, err := p.relations(main)
	if err != nil {
		return err
	}
	if err := p.readSheets(main, rels); err != nil {
		return err
	}
	if r := relationTo(rels, "styles"); r != nil {
		if err := p.readStyles(r.target); err != nil {
			return err
		}
	}
	if r := relationTo(rels, "sharedStrings"); r != nil {
		return p.readStrings(r.target)
	}
	return nil
}

// relationTo returns the first relation of a kind, nil for none.
func relationTo(rels []relation, kind string) *relation {
	for i := range rels {
		if rels[i].kind == kind {
			return &rels[i]
		}
	}
	return nil
}

func (p *Package) mainPart() (string, error) {
	root, err := p.relations("")
	if err != nil {
		return "", err
	}
	r := relationTo(root, "officeDocument")
	switch {
	case r == nil || !p.Has(r.target):
		return "", errors.New("it has no workbook part; it is no spreadsheet")
	case strings.HasSuffix(strings.ToLower(r.target), ".bin"):
		return "", errors.New("it is a binary workbook (.xlsb)")
	}
	return r.target, nil
}

func (p *Package) readSheets(main string, rels []relation) error {
	byID := map[string]relation{}
	for _, r := range rels {
		byID[r.id] = r
	}
	err := p.walk(main, func(_ *scanner, t *token) error {
		switch {
		case t.kind != startTag:
		case string(t.name) == "workbookPr":
			v, _ := t.attr("date1904")
			p.Date1904 = v == "1" || v == "true"
		case string(t.name) == "sheet":
			p.Sheets = append(p.Sheets, sheetOf(t, byID))
		}
		if len(p.Sheets) > MaxParts {
			return fmt.Errorf("it lists more than %d sheets", MaxParts)
		}
		return nil
	})
	if err == nil && len(p.Sheets) == 0 {
		return errors.New("its workbook part lists no sheet")
	}
	return err
}

// sheetOf reads a sheet of the list. One with an empty id is a macro module of old workbooks, without cells; one whose
// id leads nowhere has lost its part, which Read says.
func sheetOf(t *token, byID map[string]relation) Sheet {
	name, _ := t.attr("name")
	id, _ := t.attr("id")
	state, _ := t.attr("state")
	r, ok := byID[id]
	if !ok && id != "" {
		r.kind = "worksheet"
	}
	return Sheet{Name: plainString(name), Kind: r.kind, Hidden: state == "hidden" || state == "veryHidden", part: r.target}
}

// Style returns what a cell's style means; an unknown one means nothing.
func (p *Package) Style(i int) Style {
	if i < 0 || i >= len(p.styles) {
		return Style{}
	}
	return p.styles[i]
}

// Sheet finds a sheet by name, ignoring case as spreadsheet programs do; nil where there is none.
func (p *Package) Sheet(name string) *Sheet {
	for i := range p.Sheets {
		if strings.EqualFold(p.Sheets[i].Name, name) {
			return &p.Sheets[i]
		}
	}
	return nil
}
