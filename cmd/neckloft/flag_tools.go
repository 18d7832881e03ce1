package main

import (
	"github.com/spf13/cobra"

	"neckloft/neck/spec"
)

// addTools defines --tools for a verb that reads a spec.
func (p *program) addTools(cmd *cobra.Command) {
	cmd.Flags().StringVar(&p.toolsFile, "tools", "", "file with the tools of your shop, for what the spec's [tools] do not say; \"neckloft guide tools\" shows one")
	reads(cmd.Flags(), "tools", "the file of tools")
}

// sharedTools returns the tools of --tools, nil without it. They are read once.
func (p *program) sharedTools() (*spec.Tools, error) {
	if p.toolsFile == "" || p.shop != nil {
		return p.shop, nil
	}
	shop, err := spec.ReadToolsFile(p.toolsFile)
	if err != nil {
		return nil, err
	}
	p.shop = shop
	return shop, nil
}

// equip gives a spec the tools of --tools.
func (p *program) equip(s *spec.Spec) (*spec.Spec, error) {
	shop, err := p.sharedTools()
	if err != nil {
		return nil, err
	}
	p.own = s.Tools
	s.UseTools(shop)
	return s, nil
}

// shopUnit returns the unit to print in of the tools of --tools alone, for a
// verb that reads no spec.
func (p *program) shopUnit() (spec.Unit, error) {
	shop, err := p.sharedTools()
	return (&spec.Spec{Tools: shop}).PrintUnit(), err
}
