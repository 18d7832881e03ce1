// Package render draws necks: previews of the solid, its elevations and its
// sections, for the eye. Whatever a builder measures from belongs in a station
// table or on a full-size sheet.
package render
