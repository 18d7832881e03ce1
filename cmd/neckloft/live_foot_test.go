package main

import "github.com/stretchr/testify/require"

// clearFoot looks, on a phone, at what lies at the foot of the window while a text
// cannot be read and a note is said: nothing of it lies on another.
func (p *livePage) clearFoot() {
	p.tb.Helper()
	p.size(390, 844, "light")
	for _, pane := range []string{"section", "top"} { // with one row of choices, and with two
		p.run(`document.querySelector('#tabs [data-pane=` + pane + `]').click()`)
		p.frame()
		p.frame()
		feet := get[[]string](p, `['note', 'unread', 'tabs'].map((id) => document.getElementById(id).getBoundingClientRect())
			.flatMap((r, i, all) => [r.height < 20 && i + ' is not there', all[i + 1] && r.bottom > all[i + 1].top + 1 && i + ' lies on ' + (i + 1)]).filter(Boolean)`)
		require.Empty(p.tb, feet, pane)
	}
	p.run(`scrollTo(0, document.documentElement.scrollHeight)`)
	require.True(p.tb, get[bool](p, `document.getElementById('where').getBoundingClientRect().bottom <= document.getElementById('tabs').getBoundingClientRect().top + 1`), "the page's last line is hidden")
	p.run(`scrollTo(0, 0); document.querySelector('#tabs [data-pane=space]').click()`)
	p.size(1440, 900, "light")
}
