// What lies at the foot of the window, each over what is below it: the choice of
// the picture on a phone, in one row or two; that the text cannot be read; a note.

import { byId } from './dom.js';

// wireFoot tells the style how high they are.
export function wireFoot() {
  const heights = new ResizeObserver((entries) => {
    for (const { target } of entries) document.documentElement.style.setProperty(`--${target.id}-high`, `${target.offsetHeight}px`);
  });
  for (const id of ['tabs', 'unread']) heights.observe(byId(id));
}
