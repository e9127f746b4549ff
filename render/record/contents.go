package record

// ContentsFile is the name of the file with the contents of a guide.
const ContentsFile = "contents.json"

// Contents is what a guide says, for comparing it with another one.
type Contents struct {
	PageDigests []string  `json:"pages"`   // digests of the words of each printed page
	Counted     []Input   `json:"counted"` // what the figures are made of, each once
	Values      []Value   `json:"values"`
	Cautions    []Named   `json:"cautions"`
	Tasks       []Named   `json:"tasks"`
	Stops       []Named   `json:"stops"`
	Sections    []Section `json:"sections"`
}

// Value is one figure of a unit.
type Value struct {
	Name     string `json:"name"`
	Label    string `json:"label,omitempty"` // the label of its table row in the guide, if any
	Text     string `json:"text"`
	Engineer bool   `json:"engineer,omitempty"` // never in the owner's guide
	Inputs   []int  `json:"inputs,omitempty"`   // their places in [Contents.Counted]
}

// Input is a figure by name, or an entry of sheet or line by its path, with its text.
type Input struct {
	Name string `json:"name,omitempty"`
	Path string `json:"path,omitempty"`
	Text string `json:"text,omitempty"`
}

// Named is a caution, task or stop: its id, and its text in the guide's language.
type Named struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// Section is one section of the guide. Blocks are the digests of its blocks, without subsections.
type Section struct {
	ID     string   `json:"id"`
	Title  string   `json:"title"`
	Blocks []string `json:"blocks"`
}

// inputs returns the inputs of a figure.
func (c *Contents) inputs(v Value) (out []Input) {
	for _, i := range v.Inputs {
		out = append(out, c.Counted[i])
	}
	return out
}

// SetPages records the words of the printed pages.
func (r *Record) SetPages(words []string) {
	r.Pages, r.PageDigests = len(words), nil
	var page []byte
	for _, w := range words {
		page = append(page[:0], w...)
		r.PageDigests = append(r.PageDigests, Digest(page)[:16])
	}
}
