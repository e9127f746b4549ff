// Package page is the model of a laid-out page: items (text, shapes, pictures, links) at places in points, each with the element of the
// structure tree that it belongs to. Package ownerguide/render/pdf/layout makes pages, ownerguide/render/pdf/paint paints them.
//
// Lengths are points (1/72 in); x runs to the right and y downwards from the top left corner. Look: style, size and colour of text.
package page
