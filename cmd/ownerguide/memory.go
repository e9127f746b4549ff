package main

import (
	"runtime/debug"
	"runtime/metrics"
)

// Memory that the program may take before garbage is collected, in bytes. With two workers a run stays below 150 MB in all.
const (
	leastMemory  = 118 << 20 // most commands end below it
	workerMemory = 46 << 20  // beside what is read, if there is far more of it than of the program's own
	printMemory  = 10 << 20  // of a guide in the file for the print room, until that is finished
)

// collectLate has garbage collected only where a limit of memory is reached: by the growth of the heap it would be
// collected several times before the first unit.
func collectLate() {
	debug.SetGCPercent(-1)
	debug.SetMemoryLimit(leastMemory)
}

// makeRoom raises the limit for a run with some workers. A single one gets the room of two, for what the run keeps to use
// again: with less, 70 units that differ take three times the processor.
func makeRoom(workers int) {
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(live)
	debug.SetMemoryLimit(max(debug.SetMemoryLimit(-1), int64(live[0].Value.Uint64())+int64(max(2, workers))*workerMemory))
}
