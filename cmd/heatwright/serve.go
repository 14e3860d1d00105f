package main

import (
	"github.com/heatwright/heatwright/internal/web"
)

type serveCmd struct {
	Listen string `default:"127.0.0.1:7468" placeholder:"HOST:PORT" help:"Where the bench answers, on this machine only; port 0 takes a free one."`
	Open   bool   `default:"true" negatable:"" help:"Open it in the browser."`
	LAN    bool   `name:"lan" help:"Let other machines in: not yet, because the bench has no sign-in and no encryption."`
}

func (c *serveCmd) Run(d *desk) error {
	if c.LAN {
		return inputError("--lan is not there yet: the bench has no sign-in and no encryption, so it answers on this machine only")
	}
	if err := web.CheckListen(c.Listen); err != nil {
		return inputError("--listen: %w", err)
	}
	err := web.Serve(d.ctx, web.Options{Listen: c.Listen, Open: c.Open, Engine: engine(), Log: d.err})
	if err != nil {
		return outsideError("%w", err)
	}
	return nil
}
