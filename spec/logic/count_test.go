package logic

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"ownerguide/spec/testenv"
)

// Counts that are known without any program. Independent sets of a path and a
// cycle of n points: Fibonacci and Lucas numbers (OEIS A000045, A000032; textbook
// results). Queens on an n by n board: OEIS A000170. Latin squares of order 4:
// OEIS A002860. All from memory; the small ones are also within reach of a pencil.
func TestKnownCounts(t *testing.T) {
	tests := []struct {
		name string
		p    Problem
		want string
	}{
		{"nothing on offer", Problem{}, "1"},
		{"a hundred free options", Problem{Options: names(100)}, "1267650600228229401496703205376"}, // 2^100
		{"one of sixty", Problem{Options: names(60), Rules: []Rule{{Kind: ExactlyOne, Objects: names(60)}}}, "60"},
		{"at most one of sixty", Problem{Options: names(60), Rules: []Rule{{Kind: AtMostOne, Objects: names(60)}}}, "61"},
		{"one of two, which also exclude each other", Problem{Options: names(2), Rules: []Rule{
			{Kind: ExactlyOne, Objects: names(2)}, {Kind: Excludes, Subject: "o000", Objects: []string{"o001"}}}}, "2"},
		{"one of five thousand", Problem{Options: names(5000), Rules: []Rule{{Kind: ExactlyOne, Objects: names(5000)}}}, "5000"},
		{"chain of sixty, each needs the next", chain(60, Requires, false), "61"},
		{"ring of sixty, each needs the next", chain(60, Requires, true), "2"},
		{"path of sixty, neighbours exclude", chain(60, Excludes, false), "4052739537881"}, // F(62)
		{"cycle of sixty, neighbours exclude", chain(60, Excludes, true), "3461452808002"}, // L(60)
		{"six queens", queens(6), "4"},
		{"eight queens", queens(8), "92"},
		{"Latin squares of order 4", latin(4), "576"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.p.Count(CountSteps).String(); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

func TestEachListsAllQueens(t *testing.T) {
	p := queens(8)
	seen := map[string]bool{}
	for _, choice := range collect(p, -1) {
		seen[fmt.Sprint(choice)] = true
		if v := p.Violations(choice); v != nil {
			t.Errorf("%v breaks %v", choice, v)
		}
	}
	if len(seen) != 92 {
		t.Errorf("%d different boards, want 92", len(seen))
	}
}

func chain(n int, kind RuleKind, closed bool) Problem {
	p := Problem{Options: names(n)}
	for i := range n - 1 {
		p.Rules = append(p.Rules, Rule{Kind: kind, Subject: p.Options[i], Objects: p.Options[i+1 : i+2]})
	}
	if closed {
		p.Rules = append(p.Rules, Rule{Kind: kind, Subject: p.Options[n-1], Objects: p.Options[:1]})
	}
	return p
}

// queens has an option for each square; one queen in each row and column, at
// most one in each diagonal.
func queens(n int) Problem {
	p := Problem{Options: names(n * n)}
	group := func(kind RuleKind, on func(row, column int) bool) {
		r := Rule{Kind: kind}
		for i, name := range p.Options {
			if on(i/n, i%n) {
				r.Objects = append(r.Objects, name)
			}
		}
		p.Rules = append(p.Rules, r)
	}
	for k := range n {
		group(ExactlyOne, func(row, column int) bool { return row == k })
		group(ExactlyOne, func(row, column int) bool { return column == k })
	}
	for k := range 2*n - 1 {
		group(AtMostOne, func(row, column int) bool { return row+column == k })
		group(AtMostOne, func(row, column int) bool { return row-column+n-1 == k })
	}
	return p
}

// latin has an option for each number in each cell.
func latin(n int) Problem {
	p := Problem{Options: names(n * n * n)}
	at := func(row, column, number int) string { return p.Options[(row*n+column)*n+number] }
	for a := range n {
		for b := range n {
			var cell, row, column []string
			for c := range n {
				cell, row, column = append(cell, at(a, b, c)), append(row, at(a, c, b)), append(column, at(c, a, b))
			}
			for _, objects := range [][]string{cell, row, column} {
				p.Rules = append(p.Rules, Rule{Kind: ExactlyOne, Objects: objects})
			}
		}
	}
	return p
}

// line is an invented product line of a size beyond any real one.
func line(seed uint64, options, rules int) Problem {
	random := rand.New(rand.NewPCG(seed, 0))
	p := Problem{Options: names(options)}
	pick := func(n int) (some []string) {
		for _, i := range random.Perm(options)[:n] {
			some = append(some, p.Options[i])
		}
		return some
	}
	for range rules {
		switch some := pick(4); random.IntN(10) {
		case 0:
			p.Rules = append(p.Rules, Rule{Kind: AtMostOne, Objects: some})
		case 1, 2, 3:
			p.Rules = append(p.Rules, Rule{Kind: Excludes, Subject: some[0], Objects: some[1:2]})
		default:
			p.Rules = append(p.Rules, Rule{Kind: Requires, Subject: some[0], Objects: some[1 : 2+random.IntN(3)]})
		}
	}
	return p
}

// Sixty options under two hundred rules must be counted within the steps;
// the count is compared with listing where that is short enough to do.
func TestCountOfALargeLine(t *testing.T) {
	seeds := uint64(3)
	if testenv.IsHeavy() {
		seeds = 10
	}
	for seed := range seeds {
		for _, rules := range []int{40, 80, 120, 200} {
			p := line(seed, 60, rules)
			got := p.Count(CountSteps)
			t.Logf("seed %d, %d rules: %s choices", seed, rules, got)
			if !got.Whole {
				t.Errorf("seed %d, %d rules: not all are counted within the steps", seed, rules)
			}
			if got.Least.Cmp(big.NewInt(20_000)) < 0 {
				if listed := len(collect(p, -1)); got.Least.Cmp(big.NewInt(int64(listed))) != 0 {
					t.Errorf("seed %d, %d rules: counted %s, listed %d", seed, rules, got, listed)
				}
			}
		}
	}
}

func BenchmarkCount(b *testing.B) {
	p := line(1, 60, 200)
	for b.Loop() {
		p.Count(CountSteps)
	}
}

func BenchmarkMends(b *testing.B) {
	p := line(1, 60, 200)
	for b.Loop() {
		mends(p, p.Options[:8], 3)
	}
}
