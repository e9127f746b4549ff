package html

import (
	"encoding/base64"
	"fmt"
	"strings"
	"sync"

	"ownerguide/render/pdf/fonts"
)

// faces returns font-face rules with the complete typeface of the paper, so that nothing is
// loaded and words in a drawing are as wide as measured. A style sheet that names another
// typeface does not use it.
var faces = sync.OnceValue(func() string {
	var b strings.Builder
	for _, face := range []struct {
		style  fonts.Style
		weight int
	}{{fonts.Regular, 400}, {fonts.Bold, 700}} {
		fmt.Fprintf(&b, "@font-face { font-family: \"Ownerguide Text\"; font-weight: %d; src: url(data:font/woff2;base64,%s) format(\"woff2\"); }\n",
			face.weight, base64.StdEncoding.EncodeToString(fonts.Web(face.style)))
	}
	return b.String()
})
