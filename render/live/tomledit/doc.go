// Package tomledit changes single values, tables and list entries of a TOML
// text and leaves every other byte, comments and order included, as it is.
package tomledit
