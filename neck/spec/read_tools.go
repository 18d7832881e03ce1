package spec

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"unicode/utf8"
)

// ReadToolsFile reads the file of tools at path, which several necks have in
// common. Its errors are those of ReadTools, and those of the file system.
func ReadToolsFile(path string) (*Tools, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fileError(path, err)
	}
	if info.IsDir() {
		return nil, Problems{{File: path, Message: "this is a folder; tools are in a file"}}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fileError(path, err)
	}
	defer f.Close()
	return ReadTools(f, path)
}

// ReadTools reads tools in TOML: the table [tools] of a spec, or its keys and
// tables alone, so that [[bit]] stands for [[tools.bit]]. The key units is that
// of a spec. The file is its name in messages. An error in the tools is of type
// Problems, each with its line.
func ReadTools(r io.Reader, file string) (*Tools, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxFileSize+1))
	if err != nil {
		return nil, fileError(file, err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	whole := func(message string) (*Tools, error) {
		return nil, Problems{{File: file, Message: message}}
	}
	switch {
	case len(data) > MaxFileSize:
		return whole("this is larger than 1 MiB, which no tools are")
	case !utf8.Valid(data):
		return whole("this is not text in UTF-8; save the tools as plain UTF-8 text")
	}
	doc := parseTOML(data, file)
	if doc.root == nil {
		return nil, doc.problems
	}
	top, at := bareTools(), ""
	if doc.root.entries[toolsTable.Name] != nil {
		top, at = headedTools(), toolsTable.Name
	} else if doc.root.entries["scale"] != nil {
		return whole("this is a spec without a table [tools]; a file of tools is wanted")
	}
	s, problems := Schema{top}.decode(doc)
	if len(problems) == 0 {
		problems = toolProblems(s, top, at)
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	if p := checkTOML(data, file); p != nil {
		return nil, Problems{*p}
	}
	if s.Tools == nil {
		s.Tools = new(Tools)
	}
	return s.Tools, nil
}

// headedTools is the schema of a file whose tools stand under [tools].
func headedTools() *Table {
	return &Table{Rows: program.Top.Rows, Fields: []Field{*program.Top.field("units")}, Tables: []*Table{toolsTable}}
}

// bareTools is the schema of a file whose tools stand without that header.
func bareTools() *Table {
	tools := func(spec any) *Tools {
		s := spec.(*Spec)
		if s.Tools == nil {
			s.Tools = new(Tools)
		}
		return s.Tools
	}
	top := headedTools()
	top.Tables = nil
	for _, f := range toolsTable.Fields {
		at := f.At
		f.At = func(row any) any { return at(tools(row)) }
		top.Fields = append(top.Fields, f)
	}
	for _, t := range toolsTable.Tables {
		lifted, rows := *t, t.Rows
		lifted.Rows.All = func(parent any) []any { return rows.All(tools(parent)) }
		lifted.Rows.Add = func(parent any) any { return rows.Add(tools(parent)) }
		top.Tables = append(top.Tables, &lifted)
	}
	return top
}

// UseTools gives a spec the tools of a shop for what its own do not say: key by
// key, of a sled and a printer too, but a list of bits as a whole. The shared
// tools stay as they are.
func (s *Spec) UseTools(shared *Tools) {
	if shared == nil {
		return
	}
	own := Tools{}
	if s.Tools != nil {
		own = *s.Tools
	}
	both := own
	s.take(toolsTable, toolsTable.Name, &both, shared)
	if s.Source == nil || !s.Source.Has("tools.bit") {
		if len(own.Bits) == 0 {
			both.Bits = append([]ToolBit(nil), shared.Bits...)
		}
	}
	if shared.Sled != nil {
		both.Sled = new(ToolSled)
		if own.Sled != nil {
			*both.Sled = *own.Sled
		}
		s.take(toolSledTable, "tools.sled", both.Sled, shared.Sled)
	}
	if shared.Printer != nil {
		both.Printer = new(ToolPrinter)
		if own.Printer != nil {
			*both.Printer = *own.Printer
		}
		s.take(toolPrinterTable, "tools.printer", both.Printer, shared.Printer)
	}
	s.Tools = &both
}

// take copies what the row at does not say from another.
func (s *Spec) take(t *Table, at string, into, from any) {
	for i := range t.Fields {
		f := &t.Fields[i]
		if f.Given(into) || s.Source.Has(joinKey(at, f.Key)) || !f.Given(from) {
			continue
		}
		switch p := f.At(into).(type) {
		case *float64:
			*p = *f.At(from).(*float64)
		case *string:
			*p = *f.At(from).(*string)
		case Chosen:
			p.Set(f.At(from).(Chosen).Get())
		default:
			panic(fmt.Sprintf("tools have no key such as %s", f.Key)) // a slip in the table
		}
	}
}
