// Package begin makes build sheets to begin with: an empty one for a model, to
// be filled in, and one for each row of an order export.
//
// It writes texts and reads none back by itself; whether a sheet is right is
// package spec's to say. It opens no file.
//
// Terms: an entry is one place of a build sheet, written as a path such as
// buyer.name; a blank is a required entry without a value, which no check lets
// pass; a column map says which column of an export fills which entry.
package begin
