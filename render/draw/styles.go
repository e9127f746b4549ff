package draw

import "ownerguide/render/doc"

// Common styles.
var (
	outline = doc.Style{Line: doc.Full, Width: 1.2}
	thin    = doc.Style{Line: doc.Full, Width: 0.8}
	part    = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Pale}
	white   = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Paper}
	dark    = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Middle} // rubber, locks
	tread   = doc.Style{Line: doc.Full, Width: 1, Fill: doc.Middle}   // of what is hauled
	rod     = doc.Style{Line: doc.Full, Width: 4}                     // a handle, a pin
	cord    = doc.Style{Line: doc.Full, Width: 2}                     // a cable, a level
	far     = doc.Style{Line: doc.Middle, Width: 0.8, Fill: doc.Faint}
	behind  = doc.Style{Line: doc.Middle, Width: 0.8, Dash: []float64{3, 2}} // the far side, hidden
	solid   = doc.Style{Line: doc.Full, Width: 0.8, Fill: doc.Full}
	strong  = doc.Style{Line: doc.Full, Width: 2.2}
	signal  = doc.Style{Line: doc.Signal, Width: 1.6}
	warning = doc.Style{Line: doc.Signal, Width: 0.9} // of a hatch
)

// sides are the signs of y right and left of the centerline.
var sides = [2]float64{-1, 1}
