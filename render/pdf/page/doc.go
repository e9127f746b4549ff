// Package page is the model of a laid-out page: items (text, shapes, pictures, links) with positions, each with its element in the
// structure tree. Package ownerguide/render/pdf/layout makes pages, ownerguide/render/pdf/paint paints them.
//
// Lengths are points (1/72 in); x to the right and y downwards from the top left corner. A look is the style, size and color of text.
package page
