package main

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// speaks makes the browser of a tab ask for a language.
func (p *tab) speaks(languages string) {
	p.Helper()
	agent := of[string](p, "navigator.userAgent")
	p.do(chromedp.ActionFunc[chromedp.Void](func(c chromedp.ExecutorContext) (chromedp.Void, error) {
		return chromedp.Void{}, nil
	}))
	_, err := chromedp.Call(p.ctx, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: agent,
		AcceptLanguage: languages})
	if err != nil {
		p.Fatal(err)
	}
}
