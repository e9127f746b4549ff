// Package pdf prints a guide: as the tagged PDF of one unit, as a booklet to be folded, or with those of other units in one file.
//
// The booklet has no tags: its pages lie in the order of printing, two on a side, so
// read aloud it would make no sense. The file of several units is tagged; what is
// painted is kept until it is finished, 8 to 10 MB a guide, so several hundred units
// go into several files.
//
// Layout is pure (ownerguide/render/pdf/layout): pages of items come out of it. Paint (ownerguide/render/pdf/paint) carries them to the PDF
// library in a dull loop and marks each for the finishing pass (ownerguide/render/pdf/finish), which makes the file tagged. It reads no clock:
// same guide, same bytes.
package pdf
