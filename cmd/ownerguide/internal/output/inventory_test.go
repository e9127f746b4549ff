package output

import (
	"fmt"
	"testing"

	"ownerguide/render/deliver"
	"ownerguide/render/register"
)

// However many units a run has, few of their entries are held at a time, and none is lost.
func TestFewEntriesAreHeld(t *testing.T) {
	dir := t.TempDir()
	folder, err := (deliver.Rules{}).Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	inventory := func() (s *Inventory, known map[string]register.Entry) {
		known = map[string]register.Entry{}
		s, err := ReadInventory(folder, dir, false, func(p Place, e register.Entry) { known[p.Name] = e })
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(s.Close)
		return s, known
	}
	s, _ := inventory()
	const units = 2*mostAnew + 1
	named := func(i int) string { return fmt.Sprintf("BW-27-%05d", i) }
	for i := range units {
		name := named(i)
		s.Put(Place{Name: name, Absent: true}, register.Entry{Serial: name, Letter: register.Letter{Revision: "A"}})
		if len(s.Anew) >= mostAnew {
			t.Fatalf("%d entries are held", len(s.Anew))
		}
	}
	s.Put(Place{Name: named(0), Absent: true}, register.Entry{Serial: named(0), Letter: register.Letter{Revision: "B"}})
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
	_, known := inventory()
	if first, last := known[named(0)], known[named(units-1)]; len(known) != units || first.Letter.Revision != "B" || last.Letter.Revision != "A" {
		t.Errorf("%d of %d entries were saved, the first %+v, the last %+v", len(known), units, first, last)
	}
}
