// Package export writes a quotation, and the yard's figures of a boat, in forms that other programs read: UBL for
// whoever buys by computer, iCalendar for a diary, JSON-LD of schema.org for search engines, and a workbook of Office
// Open XML for a spreadsheet. One file a format.
//
// Nothing is computed here but what a format wants otherwise than the paper says it, such as lines without tax; and
// then it adds up, or nothing is written. Of a quotation a format gets what its customer may have and no more. The
// same quotation and language give the same bytes: no clock, no random identifier.
//
// Papers for people are the matter of packages paper and render. This package reads no files and none of its formats.
package export

import (
	"crypto/sha256"
	"fmt"

	"ribband/core/msg"
	"ribband/core/quote"
)

// issued says why a quote has no form that binds somebody: a draft has no number, no day and no validity.
func issued(q *quote.Quote) error {
	if q.Number == "" || q.Date == "" {
		return msg.Fault("export.draft")
	}
	return nil
}

// identifier is a UUID made of texts: the same texts give the same identifier on every machine.
//
// Source: RFC 9562, section 5.8 (version 8: bits of the writer's own making, here of a SHA-256).
func identifier(of ...string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q", of))
	sum[6] = sum[6]&0x0f | 0x80
	sum[8] = sum[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", sum[:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}
