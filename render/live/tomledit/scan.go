package tomledit

import "strings"

// valueEnd returns the end of the value that begins at i. The text has been
// parsed, so that it need not be checked again.
func valueEnd(text string, i int) int {
	if i >= len(text) {
		return i
	}
	switch c := text[i]; c {
	case '"', '\'':
		return stringEnd(text, i)
	case '[', '{':
		closing := byte(']')
		if c == '{' {
			closing = '}'
		}
		i++
		for i < len(text) && text[i] != closing {
			switch text[i] {
			case '"', '\'', '[', '{':
				i = valueEnd(text, i)
			case '#':
				i = lineEnd(text, i)
			default:
				i++
			}
		}
		return min(i+1, len(text))
	}
	// A number, a date or a truth value. A date may hold one space.
	end := plainEnd(text, i)
	if end+1 < len(text) && text[end] == ' ' && end-i == len("2006-01-02") && text[i+4] == '-' &&
		text[end+1] >= '0' && text[end+1] <= '9' {
		end = plainEnd(text, end+1)
	}
	return end
}

// plainEnd returns the end of what stands at i without quotes or brackets.
func plainEnd(text string, i int) int {
	if n := strings.IndexAny(text[i:], " \t\r\n,]}#"); n >= 0 {
		return i + n
	}
	return len(text)
}

// stringEnd returns the end of the string that begins at i.
func stringEnd(text string, i int) int {
	quote := text[i : i+1]
	long := strings.Repeat(quote, 3)
	escapes := quote == `"`
	if !strings.HasPrefix(text[i:], long) {
		for i++; i < len(text); i++ {
			switch {
			case escapes && text[i] == '\\':
				i++
			case text[i] == quote[0]:
				return i + 1
			}
		}
		return len(text)
	}
	for i += 3; i < len(text); i++ {
		if escapes && text[i] == '\\' {
			i++
			continue
		}
		if strings.HasPrefix(text[i:], long) {
			i += 3
			// Up to two quotes may stand before the closing three.
			for n := 0; n < 2 && i < len(text) && text[i] == quote[0]; n++ {
				i++
			}
			return i
		}
	}
	return len(text)
}

// lineEnd returns the offset of the newline that ends the line of i, or the
// length of the text.
func lineEnd(text string, i int) int {
	if n := strings.IndexByte(text[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(text)
}

// lineStart returns the offset of the first byte of the line of i.
func lineStart(text string, i int) int { return strings.LastIndexByte(text[:i], '\n') + 1 }

// skipBlank returns the offset of what comes after white space, newlines,
// comments and any of the given bytes.
func skipBlank(text string, i int, more string) int {
	for i < len(text) {
		switch {
		case text[i] == '#':
			i = lineEnd(text, i)
		case strings.IndexByte(" \t\r\n"+more, text[i]) >= 0:
			i++
		default:
			return i
		}
	}
	return i
}
