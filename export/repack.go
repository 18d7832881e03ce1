package export

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"hash/crc32"
	"io"
	"sort"
)

// contentTypes is the name of the part that lists the types of all others (Open
// Packaging Conventions, ISO/IEC 29500-2).
const contentTypes = "[Content_Types].xml"

// dosEpoch is 1 January 1980, the first day that a zip archive can name.
const dosEpoch = 0<<9 | 1<<5 | 1

// repack copies a 3MF package so that the same model gives the same bytes. The
// 3MF library stamps every part with the time and lists the content types in
// the order of a map; the copy has a fixed date, and parts and types in a
// fixed order.
func repack(w io.Writer, pack []byte) error {
	in, err := zip.NewReader(bytes.NewReader(pack), int64(len(pack)))
	if err != nil {
		return fmt.Errorf("3MF: %w", err)
	}
	sort.Slice(in.File, func(i, j int) bool {
		a, b := in.File[i].Name, in.File[j].Name
		if (a == contentTypes) != (b == contentTypes) {
			return a == contentTypes // first, as a reader of a stream wants it
		}
		return a < b
	})
	out := zip.NewWriter(w)
	for _, f := range in.File {
		if err := copyPart(out, f); err != nil {
			return err
		}
	}
	return out.Close()
}

// copyPart copies one part, compressed as it is.
func copyPart(out *zip.Writer, f *zip.File) error {
	header := zip.FileHeader{
		Name:               f.Name,
		CreatorVersion:     f.CreatorVersion,
		ReaderVersion:      f.ReaderVersion,
		Method:             f.Method,
		ModifiedDate:       dosEpoch,
		CRC32:              f.CRC32,
		CompressedSize64:   f.CompressedSize64,
		UncompressedSize64: f.UncompressedSize64,
	}
	content, err := f.OpenRaw()
	if err != nil {
		return fmt.Errorf("3MF: %w", err)
	}
	if f.Name == contentTypes {
		types, err := sortedTypes(f)
		if err != nil {
			return fmt.Errorf("3MF: %w", err)
		}
		header.Method = zip.Store
		header.CRC32 = crc32.ChecksumIEEE(types)
		header.CompressedSize64 = uint64(len(types))
		header.UncompressedSize64 = uint64(len(types))
		content = bytes.NewReader(types)
	}
	part, err := out.CreateRaw(&header)
	if err != nil {
		return err
	}
	_, err = io.Copy(part, content)
	return err
}

// typeList is the content of the part with the content types. The standard has
// the two kinds of entries in any order.
type typeList struct {
	XMLName  xml.Name `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
	Defaults []struct {
		Extension   string `xml:",attr"`
		ContentType string `xml:",attr"`
	} `xml:"Default"`
	Overrides []struct {
		PartName    string `xml:",attr"`
		ContentType string `xml:",attr"`
	} `xml:"Override"`
}

// sortedTypes returns the list of content types in order.
func sortedTypes(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	var types typeList
	if err := xml.NewDecoder(r).Decode(&types); err != nil {
		return nil, err
	}
	sort.Slice(types.Defaults, func(i, j int) bool { return types.Defaults[i].Extension < types.Defaults[j].Extension })
	sort.Slice(types.Overrides, func(i, j int) bool { return types.Overrides[i].PartName < types.Overrides[j].PartName })
	out, err := xml.Marshal(types)
	if err != nil {
		return nil, err
	}
	return append([]byte(xml.Header), out...), nil
}
