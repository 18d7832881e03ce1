package export

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/hschendel/stl"
)

// asciiFacet is a facet of ASCII STL, word by word. A # stands for a number.
var asciiFacet = strings.Fields(`
	facet normal # # #
	outer loop
	vertex # # #
	vertex # # #
	vertex # # #
	endloop
	endfacet`)

// readASCII calls facet with every facet of an ASCII STL file, which may hold
// several solids.
//
// The STL library has a reader of its own. It stops after the first solid,
// wants a name after "solid", and goes one call deeper with every empty line,
// so that scans made elsewhere could be cut short or exhaust the stack.
func readASCII(r io.Reader, facet func(stl.Triangle)) error {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	var (
		number   int // of the line
		position int // in asciiFacet
		numbers  [12]float32
		filled   int
		open     bool
	)
	for lines.Scan() {
		number++
		words := bytes.Fields(lines.Bytes())
		if position == 0 && len(words) > 0 {
			// The name of a solid may be anything, and ends with its line.
			switch {
			case bytes.EqualFold(words[0], []byte("solid")):
				open = true
				continue
			case bytes.EqualFold(words[0], []byte("endsolid")):
				open = false
				continue
			}
		}
		for _, word := range words {
			want := asciiFacet[position]
			switch {
			case !open:
				return fmt.Errorf("line %d: %s stands outside a solid", number, quoteWord(word))
			case want != "#":
				if !bytes.EqualFold(word, []byte(want)) {
					return fmt.Errorf("line %d: %s stands where %q is wanted", number, quoteWord(word), want)
				}
			default:
				v, err := strconv.ParseFloat(string(word), 32)
				if err != nil {
					return fmt.Errorf("line %d: %s stands where a number is wanted", number, quoteWord(word))
				}
				numbers[filled] = float32(v)
				filled++
			}
			if position++; position == len(asciiFacet) {
				facet(stl.Triangle{
					Normal:   stl.Vec3(numbers[0:3]),
					Vertices: [3]stl.Vec3{stl.Vec3(numbers[3:6]), stl.Vec3(numbers[6:9]), stl.Vec3(numbers[9:12])},
				})
				position, filled = 0, 0
			}
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return fmt.Errorf("line %d: the line is too long for an STL file", number+1)
	case err != nil:
		return err
	case position > 0 || open:
		return fmt.Errorf("line %d: the file ends before \"endsolid\"", number)
	}
	return nil
}

// quoteWord quotes a word of a file for a message, not at any length.
func quoteWord(word []byte) string {
	const most = 40
	if len(word) > most {
		return strconv.Quote(string(word[:most])) + "…"
	}
	return strconv.Quote(string(word))
}
