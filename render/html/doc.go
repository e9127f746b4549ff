// Package html writes the document as one HTML file that works offline, on a phone and
// on paper.
//
// It is a reader: it depends on the types and roles of nodes and decides nothing about
// content. The page loads nothing and runs only guide.js, which its content security
// policy allows; everything is readable without it. Anchors are the stable ids of
// sections, so a dealer can send a link to "#tires".
package html
