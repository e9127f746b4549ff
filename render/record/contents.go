package record

// ContentsFile is the name of the file with the contents of a guide.
const ContentsFile = "contents.json"

// Contents is what a guide says, for comparing it with another one.
type Contents struct {
	PageDigests []string  `json:"pages"` // digests of the words of each printed page
	Features    []string  `json:"features"`
	Values      []Value   `json:"values"`
	Cautions    []Named   `json:"cautions"`
	Tasks       []Named   `json:"tasks"`
	Stops       []Named   `json:"stops"`
	Sections    []Section `json:"sections"`
}

// Named is a caution, task or stop: its id, and its text in the guide's language.
type Named struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// Section is one section of the guide. Page is the page on which it begins; Blocks are the
// digests of its blocks, without subsections.
type Section struct {
	ID     string   `json:"id"`
	Level  int      `json:"level"`
	Title  string   `json:"title"`
	Page   int      `json:"page"`
	Blocks []string `json:"blocks"`
}

// SetPages records the printed pages: the words of each, and the page on which each
// section begins, by its id.
func (r *Record) SetPages(words []string, begins map[string]int) {
	r.Pages, r.PageDigests = len(words), nil
	for _, w := range words {
		r.PageDigests = append(r.PageDigests, Digest([]byte(w))[:16])
	}
	for i := range r.Sections {
		r.Sections[i].Page = begins[r.Sections[i].ID]
	}
}
