package model_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"testing"

	"coilward/model"
)

// Every constant of the type stands in the list: what goes through all documents
// goes through those of every type.
func TestDocumentTypesAreAll(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "document.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var declared []model.DocumentType
	ast.Inspect(file, func(n ast.Node) bool {
		spec, is := n.(*ast.ValueSpec)
		if !is {
			return true
		}
		if of, named := spec.Type.(*ast.Ident); named && of.Name == "DocumentType" {
			for _, value := range spec.Values {
				text, err := strconv.Unquote(value.(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				declared = append(declared, model.DocumentType(text))
			}
		}
		return true
	})
	if len(declared) < 9 || !slices.Equal(model.DocumentTypes(), declared) {
		t.Errorf("declared are %v, listed %v", declared, model.DocumentTypes())
	}
}
