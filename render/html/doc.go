// Package html writes the document as one HTML file that works offline, on a
// phone and on paper.
//
// It is a reader: it looks at kinds and roles of nodes and decides nothing
// about content. The page fetches nothing and runs only guide.js, which its
// content-security policy names; without it everything is there to read. Anchors
// are the stable ids of sections, so a dealer can send a link to "#tires".
package html
