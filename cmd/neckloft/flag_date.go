package main

import (
	"time"

	"github.com/spf13/pflag"
)

// dateFlag is a date, with the time of day or without, in the zone of the clock
// where it names none.
type dateFlag struct {
	name, text string
	time.Time
}

// addDate defines a flag that is a date.
func addDate(fs *pflag.FlagSet, f *dateFlag, name, usage string) {
	f.name = name
	fs.Var(f, name, usage)
}

func (f *dateFlag) String() string { return f.text }
func (f *dateFlag) Type() string   { return "date" }

func (f *dateFlag) Set(text string) error {
	if text == "" {
		return wrong("--%s: a date is wanted, such as 2026-03-14", f.name)
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02 15:04", "2006-01-02"} {
		date, err := time.ParseInLocation(layout, text, time.Local)
		if err != nil {
			continue
		}
		// A day ahead may be today in another zone; a slip of the keys is
		// farther off.
		if date.Year() < 1970 || time.Until(date) > 48*time.Hour {
			return wrong("--%s %s is not sensible; allowed: 1970 to today", f.name, text)
		}
		f.text, f.Time = text, date
		return nil
	}
	return wrong("--%s %q is not understood; allowed: 2026-03-14, \"2026-03-14 15:09\" or 2026-03-14T15:09:26+01:00", f.name, text)
}

// given reports whether there is a date.
func (f *dateFlag) given() bool { return f.text != "" }
