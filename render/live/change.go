package live

import "unicode/utf8"

// change is what became of a text: from At on, Cut of it gave way to Put. Both are
// counted as a page counts, in units of UTF-16. The page knows the text that it has
// sent, and most of it is as it was.
type change struct {
	At  int    `json:"at"`
	Cut int    `json:"cut"`
	Put string `json:"put"`
}

// changeOf returns the change from one text to another.
func changeOf(before, after string) *change {
	head := 0
	for head < min(len(before), len(after)) && before[head] == after[head] {
		head++
	}
	for head > 0 && !begins(before, head) || head < len(after) && !begins(after, head) {
		head--
	}
	tail := 0 // bytes that both end with
	for tail < min(len(before), len(after))-head && before[len(before)-1-tail] == after[len(after)-1-tail] {
		tail++
	}
	for tail > 0 && !(begins(before, len(before)-tail) && begins(after, len(after)-tail)) {
		tail--
	}
	return &change{units(before[:head]), units(before[head : len(before)-tail]), after[head : len(after)-tail]}
}

// begins reports whether a character of a text begins at a byte, or the text ends
// there.
func begins(text string, at int) bool { return at == len(text) || utf8.RuneStart(text[at]) }

// units returns how many units of UTF-16 a text has.
func units(text string) int {
	n := 0
	for _, r := range text {
		n++
		if r > 0xffff {
			n++
		}
	}
	return n
}
