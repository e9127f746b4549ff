// Package pdf prints a guide: as the tagged PDF of one unit, as a booklet to be folded, or with those of other units in one file.
//
// The booklet has no tags: its pages are in printing order, two on a side, so reading it
// aloud would make no sense. The file of several units is tagged; painted content is
// compressed and kept in memory until the file is finished.
//
// Layout (ownerguide/render/pdf/layout) is pure and returns pages of items. Paint (ownerguide/render/pdf/paint) paints them on pages
// that package finish (ownerguide/render/pdf/finish) tags and writes. No package reads a clock: the same guide gives the same bytes.
package pdf
