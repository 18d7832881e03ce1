package live

// file is a spec as it is on the disk. A file that is not there has no hash.
type file struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Hash string `json:"hash"`
}

// conflict is the error of a save that would overwrite what the page has not
// seen.
type conflict struct{ current *file }

func (c conflict) Error() string {
	if c.current.Hash == "" {
		return c.current.Name + " is no longer there"
	}
	return c.current.Name + " was changed by something else since it was read here"
}
