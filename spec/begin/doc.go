// Package begin makes build sheets to start from: an empty one for a model, to be filled
// in, and one for each row of an order export.
//
// It writes the texts of sheets; whether a sheet is valid is checked by package spec. It
// opens no file.
//
// Terms: an entry is one value of a build sheet, written as a path such as buyer.name; a
// blank is a required entry without a value, which every check refuses; a column map
// says which column of an export fills which entry.
package begin
