module ownerguide

go 1.26.0

require (
	github.com/alecthomas/kong v1.17.0
	github.com/klauspost/compress v1.20.4
	github.com/signintech/gopdf v0.33.0
	github.com/yuin/goldmark v1.8.7
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	gopkg.in/yaml.v3 v3.0.1
)

// Used by tests only.
require (
	github.com/rogpeppe/go-internal v1.16.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/phpdave11/gofpdi v1.0.14-0.20211212211723-1f10f9844311 // indirect
	github.com/pkg/errors v0.8.1 // indirect
	golang.org/x/tools v0.52.0 // indirect
)
