// Package html writes the document as one HTML file that works offline, on a
// phone and on paper.
//
// It is a reader: it looks at kinds and roles of nodes and decides nothing
// about content. The page needs no script and fetches nothing; its
// content-security policy says so. Anchors are the stable ids of sections, so a
// dealer can send a link to "#tires".
package html
