package render

import (
	"fmt"
	"io"

	"neckloft/export"
	"neckloft/neck/carve"
)

// PlanPages returns how many pages the carving plan has.
func PlanPages(p *carve.Plan, paper export.Paper) int { return len(newPlanBook(p, paper).pages) }

// WritePlanPage writes a page of the carving plan, counted from 1, as a picture.
func WritePlanPage(w io.Writer, p *carve.Plan, paper export.Paper, page int) error {
	b := newPlanBook(p, paper)
	if page < 1 || page > len(b.pages) {
		return fmt.Errorf("the carving plan has no page %d; allowed: 1 to %d", page, len(b.pages))
	}
	img, _ := planPicture(b, page-1, 1800)
	return WritePNG(w, indexed(img))
}
