package knowledge_test

import (
	"os"
	"testing"

	"coilward/model/knowledge"
)

func TestLoad_TheTablesOfTheProgramStand(t *testing.T) {
	tables, err := knowledge.Load(os.DirFS("../../assets/knowledge"))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(tables.Stops()); n != 20 {
		t.Errorf("%d stops, want 20", n)
	}
}
