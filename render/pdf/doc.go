// Package pdf prints a guide: as the tagged PDF of one unit, as a booklet to be folded, or with those of other units in one file.
//
// Layout is pure (ownerguide/render/pdf/layout): pages of items come out of it. Paint (ownerguide/render/pdf/paint) carries them to the PDF
// library in a dull loop and marks each for the finishing pass (ownerguide/render/pdf/finish), which makes the file tagged. It reads no clock:
// same guide, same bytes.
package pdf
