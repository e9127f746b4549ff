module ownerguide

go 1.26.0

require (
	github.com/alecthomas/kong v1.17.0
	github.com/emersion/go-message v0.18.2
	github.com/fsnotify/fsnotify v1.10.1
	github.com/klauspost/compress v1.20.4
	github.com/signintech/gopdf v0.33.0
	github.com/thedatashed/xlsxreader v1.2.8
	github.com/yuin/goldmark v1.8.7
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	gopkg.in/yaml.v3 v3.0.1
)

// Used by tests only.
require (
	github.com/apognu/gocal v0.9.1
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	pgregory.net/rapid v1.3.0
)

require (
	github.com/ChannelMeter/iso8601duration v0.0.0-20150204201828-8da3af7a2a61 // indirect
	github.com/kr/text v0.2.0 // indirect
	github.com/niemeyer/pretty v0.0.0-20200227124842-a10e7caefd8e // indirect
	github.com/phpdave11/gofpdi v1.0.14-0.20211212211723-1f10f9844311 // indirect
	github.com/pkg/errors v0.8.1 // indirect
	github.com/stretchr/testify v1.7.0 // indirect
	golang.org/x/text v0.14.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
	gopkg.in/check.v1 v1.0.0-20200227125254-8fa46927fb4f // indirect
)
