// Where a window is very small, as when the page is enlarged four times, warnings
// and hint are folded into one line, so that the picture is in sight.

import { byId, el, setWords } from './dom.js';

const count = (n, one) => (n === 0 ? '' : n === 1 ? `1 ${one}` : `${n} ${one}s`);

export function wireFold() {
  const box = byId('alerts');
  const [list, hint] = [byId('problems'), byId('hint')];
  const fold = el('button', { type: 'button', id: 'alerts-fold', 'aria-expanded': 'false', 'aria-controls': 'problems hint' });
  fold.onclick = () => fold.setAttribute('aria-expanded', String(box.classList.toggle('open')));
  const words = () => {
    const errors = list.querySelectorAll('.error').length;
    const what = [count(errors, 'error'), count(list.children.length - errors, 'warning'), hint.hidden ? '' : 'a hint'].filter(Boolean);
    fold.hidden = what.length === 0;
    fold.classList.toggle('wrong', errors > 0);
    setWords(fold, what.join(', '));
  };
  box.prepend(fold);
  const watch = new MutationObserver(words);
  watch.observe(list, { childList: true });
  watch.observe(hint, { attributeFilter: ['hidden'] });
  words();
}
