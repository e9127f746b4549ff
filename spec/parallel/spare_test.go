package parallel

import (
	"runtime"
	"testing"
)

// What is put back comes again even after the collector has run, and no more of it is held than there are processors.
func TestSpareIsKeptAndBounded(t *testing.T) {
	made := 0
	s := Spare[*int]{New: func() *int { made++; return new(int) }}
	most := Processors
	var taken []*int
	for range most + 3 {
		taken = append(taken, s.Get())
	}
	for _, one := range taken {
		s.Put(one)
	}
	runtime.GC()
	runtime.GC()
	for range most + 3 {
		s.Get()
	}
	if want := most + 3 + 3; made != want {
		t.Errorf("made %d, expected %d", made, want)
	}
}
