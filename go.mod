module ownerguide

go 1.26.0

require (
	// The command line, read off Go structs.
	github.com/alecthomas/kong v1.17.0
	// The mail: MIME parts, encodings, folded headers; a slip there garbles a number on some mail programs only. MIT. In its place: mime/multipart and quotedprintable, with headers folded by hand.
	github.com/emersion/go-message v0.18.2
	// News of changed files, for write --watch. BSD-3. In its place: nothing; the flag goes.
	github.com/fsnotify/fsnotify v1.10.1
	// Deflate with reusable writers: the standard library's cost a fifth of the time. BSD-3. In its place: compress/zlib in render/pdf/finish.
	github.com/klauspost/compress v1.20.4
	// PDF; pinned, since render/pdf/finish knows what it writes.
	github.com/signintech/gopdf v0.33.0
	// Cells of an .xlsx order export. MIT. In its place: CSV.
	github.com/thedatashed/xlsxreader v1.2.8
	// Markdown.
	github.com/yuin/goldmark v1.8.7
	// Atomic exchange of folders, file locks. BSD-3. In its place: renameTwice.
	golang.org/x/sys v0.50.0
	// Is it a terminal. BSD-3.
	golang.org/x/term v0.48.0
	// Letters and their marks as one character (NFC); of its tables only those. BSD-3. In its place: names whose marks stand apart are refused.
	golang.org/x/text v0.14.0
	// YAML with places; one door in spec/source.
	gopkg.in/yaml.v3 v3.0.1
)

// Used by tests only.
require (
	// Reads calendars back, sharing nothing with the writer. MIT.
	github.com/apognu/gocal v0.9.1
	// Command-line scripts.
	github.com/rogpeppe/go-internal v1.16.0
	// Holds our schemas against our files; it must not be ours.
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	// Generated inputs with shrinking.
	pgregory.net/rapid v1.3.0
)

require (
	github.com/ChannelMeter/iso8601duration v0.0.0-20150204201828-8da3af7a2a61 // indirect
	github.com/kr/text v0.2.0 // indirect
	github.com/niemeyer/pretty v0.0.0-20200227124842-a10e7caefd8e // indirect
	github.com/phpdave11/gofpdi v1.0.14-0.20211212211723-1f10f9844311 // indirect
	github.com/pkg/errors v0.8.1 // indirect
	github.com/stretchr/testify v1.7.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
	gopkg.in/check.v1 v1.0.0-20200227125254-8fa46927fb4f // indirect
)
