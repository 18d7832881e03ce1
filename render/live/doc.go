// Package live serves the page on which a neck is shaped by hand: one page for
// one builder, on the loopback interface only.
//
// The page draws; everything it draws is computed here. It keeps the spec's
// text and sends it along with every request, so that the server holds no state
// of a page and nothing can get out of step. An edit is a change of that text.
package live
