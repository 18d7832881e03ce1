package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// longest and mostPaths bound a function that says nothing about its length: its
// lines, and its cyclomatic number (T. J. McCabe, A Complexity Measure, IEEE
// Transactions on Software Engineering 2, 1976: the decisions, and one).
const longest, mostPaths = 60, 20

// TestFunctions checks that every function of the repository is short, or says
// why it is not.
func TestFunctions(t *testing.T) {
	why := regexp.MustCompile(`(?i)\b(long|many)\b`)
	files := token.NewFileSet()
	functions := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == "node_modules" {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		file, err := parser.ParseFile(files, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, declared := range file.Decls {
			f, ok := declared.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			functions++
			lines := files.Position(f.End()).Line - files.Position(f.Pos()).Line + 1
			if paths := cyclomatic(f); lines > longest || paths > mostPaths {
				assert.Regexp(t, why, f.Doc.Text(), "%s: %s has %d lines and %d paths", path, f.Name.Name, lines, paths)
			}
		}
		return nil
	}))
	assert.Greater(t, functions, 1000, "the walk goes through the repository")
}

// cyclomatic returns the cyclomatic number of a function.
func cyclomatic(f *ast.FuncDecl) int {
	paths := 1
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			paths++
		case *ast.CaseClause:
			if n.List != nil {
				paths++
			}
		case *ast.CommClause:
			if n.Comm != nil {
				paths++
			}
		case *ast.BinaryExpr:
			if n.Op == token.LAND || n.Op == token.LOR {
				paths++
			}
		}
		return true
	})
	return paths
}
