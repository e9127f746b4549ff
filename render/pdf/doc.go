// Package pdf prints a guide: as the tagged PDF of one unit, as a booklet to be folded, or with those of other units in one file.
//
// The booklet has no tags: its pages lie in the order of printing, two on a side, so
// read aloud it would make no sense. The file of several units is tagged; what is
// painted is kept until it is finished, compressed.
//
// Layout is pure (ownerguide/render/pdf/layout): pages of items come out of it. Paint (ownerguide/render/pdf/paint) paints them in a dull
// loop on pages that the finishing package (ownerguide/render/pdf/finish) tags and writes. It reads no clock: same guide, same bytes.
package pdf
