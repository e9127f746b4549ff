package vin

import (
	"encoding/json"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"ownerguide/spec/testenv"
)

// outsideLibrary is vin-validator 1.0.0 from the npm registry (ISC licence),
// written by people who know nothing of this project; .ci/package.json pins it.
const outsideLibrary = "../../.ci/node_modules/vin-validator"

// Every digit that position 9 can hold, tried on generated numbers: this
// package and a library from outside take the same one and refuse the rest.
func TestCheckDigitAgainstOutsideLibrary(t *testing.T) {
	testenv.Outside(t, "node")
	folder, err := filepath.Abs(outsideLibrary)
	if err != nil {
		t.Fatal(err)
	}

	const letters, digits = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789", "0123456789X"
	random := rand.New(rand.NewPCG(9, 565))
	var numbers []string
	for range 1000 {
		number := make([]byte, 17)
		for i := range number {
			number[i] = letters[random.IntN(len(letters))]
		}
		for _, d := range []byte(digits) {
			number[8] = d
			numbers = append(numbers, string(number))
		}
	}
	input, err := json.Marshal(numbers)
	if err != nil {
		t.Fatal(err)
	}
	output := testenv.ToolReading(t, string(input), "node", "-e", `const {validate} = require(process.argv[1]);
console.log(JSON.stringify(JSON.parse(require("fs").readFileSync(0, "utf8")).map(validate)))`, folder)
	var theirs []bool
	if err := json.Unmarshal([]byte(output), &theirs); err != nil || len(theirs) != len(numbers) {
		t.Fatalf("%d answers to %d numbers, %v", len(theirs), len(numbers), err)
	}
	for i, number := range numbers {
		digit, err := CheckDigit(number)
		if err != nil {
			t.Fatal(err)
		}
		if ours := digit == number[8]; ours != theirs[i] {
			t.Errorf("%s: we say %t, the library %t", number, ours, theirs[i])
		}
	}
}
