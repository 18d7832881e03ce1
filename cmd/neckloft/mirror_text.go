package main

import (
	"errors"
	"strings"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// mirrorLine is the line that mirroring adds to a spec that names no hand. Mirrored
// again, that spec loses it, so that mirroring twice gives the same bytes.
const mirrorLine = `hand = "left"                # turned by mirror`

// mirrored returns the text of a spec for the other hand. All that it does not
// have to change stays as it is, byte for byte.
func mirrored(text string) (string, error) {
	rest, marked := strings.CutPrefix(text, "\ufeff")
	out, err := mirroredTOML(rest)
	if marked {
		out = "\ufeff" + out
	}
	return out, err
}

func mirroredTOML(text string) (string, error) {
	d, err := tomledit.Parse(text)
	if err != nil {
		return "", err
	}
	was, ok := d.Value("hand")
	if !ok {
		return withMirrorLine(d), nil
	}
	// With the line that mirroring adds: without it.
	if i := strings.Index(text, mirrorLine); i >= 0 {
		without := text[:i] + strings.TrimPrefix(strings.TrimPrefix(text[i+len(mirrorLine):], "\r"), "\n")
		if d, err := tomledit.Parse(without); err == nil && withMirrorLine(d) == text {
			return without, nil
		}
	}
	if err := d.Swap("hand", otherHand(was)); err != nil {
		return "", err
	}
	return d.String(), nil
}

// otherHand returns the other hand as a literal, in the quotes of the one that
// is there.
func otherHand(was tomledit.Literal) tomledit.Literal {
	left, right := spec.LeftHand.String(), spec.RightHand.String()
	for _, turn := range [][2]string{{left, right}, {right, left}} {
		if strings.Contains(string(was), turn[0]) {
			return tomledit.Literal(strings.Replace(string(was), turn[0], turn[1], 1))
		}
	}
	return tomledit.Text(left) // written with escapes
}

// withMirrorLine adds the line after those of the name and the unit, which
// stand at the top of a spec, or before everything.
func withMirrorLine(d *tomledit.Document) string {
	text, at := d.String(), 0
	for _, key := range []string{"name", "units"} {
		if next, ok := d.NextLine(key); ok {
			at = max(at, next)
		}
	}
	end := "\n"
	if i := strings.IndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		end = "\r\n"
	}
	return text[:at] + mirrorLine + end + text[at:]
}

// errNotMirrored is a defect: the text that was made is not that of the mirror.
var errNotMirrored = errors.New("the spec is written in a way that cannot be mirrored; give it the key hand yourself")
