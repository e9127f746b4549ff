package schema

import (
	_ "embed"
	"sync"

	"ownerguide/spec/source"
)

//go:embed keys.yaml
var keysFile []byte

// meanings is keys.yaml: what each key of each struct means.
var meanings = sync.OnceValue(func() source.Map[source.Map[string]] {
	node, findings := source.Parse("keys.yaml", keysFile, source.LineLimit)
	var all source.Map[source.Map[string]]
	if node != nil {
		source.Decode(node, &all, &findings)
	}
	if findings.HasErrors() {
		panic(findings[0].Pos.String() + ": " + findings[0].Message) // the file is part of the program
	}
	return all
})

// anyStruct is the group of keys that mean the same everywhere.
const anyStruct = "*"

// meaning finds the words for a key of a struct; "" where there are none.
func meaning(in, key string) string {
	all := meanings()
	for _, group := range []string{in, anyStruct} {
		if keys := all.Get(group); keys != nil {
			if text := keys.Get(key); text != nil {
				return *text
			}
		}
	}
	return ""
}
