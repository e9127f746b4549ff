module ownerguide

go 1.26.0

require (
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/crillab/gophersat v1.4.0 // indirect
	github.com/klauspost/compress v1.20.4 // indirect
	github.com/phpdave11/gofpdi v1.0.14-0.20211212211723-1f10f9844311 // indirect
	github.com/pkg/errors v0.8.1 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/signintech/gopdf v0.33.0 // indirect
	github.com/yuin/goldmark v1.8.7 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/term v0.48.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
	gopkg.in/yaml.v3 v3.0.1 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
