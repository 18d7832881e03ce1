// A thumb on a slider: it may mean to slide, to tap, or to scroll the page.

const enough = 8; // px until it is clear what is meant

// withThumb keeps a slider where it is under a thumb that scrolls. A browser
// moves it as soon as it is touched; what comes of that is kept from the page
// until the thumb has gone along the slider, and taken back if it goes across.
// It comes before other listeners.
export function withThumb(slider) {
  let touch = null; // { id, x, y, value, means: '' | 'slide' | 'scroll' }
  const hold = (event) => {
    if (!touch || touch.means === 'slide') return;
    event.stopImmediatePropagation();
    if (touch.means === 'scroll') slider.value = touch.value;
  };
  const scroll = () => {
    touch.means = 'scroll';
    slider.value = touch.value;
  };
  slider.addEventListener('input', hold);
  slider.addEventListener('change', hold);
  slider.addEventListener('pointerdown', (e) => {
    if (e.pointerType === 'mouse' || touch) return;
    touch = { id: e.pointerId, x: e.clientX, y: e.clientY, value: slider.value, means: '' };
  });
  slider.addEventListener('pointermove', (e) => {
    if (touch?.id !== e.pointerId || touch.means) return;
    const along = Math.abs(e.clientX - touch.x);
    const across = Math.abs(e.clientY - touch.y);
    if (Math.max(along, across) < enough) return;
    if (across >= along) return scroll();
    touch.means = 'slide';
    if (slider.value !== touch.value) slider.dispatchEvent(new Event('input', { bubbles: true }));
  });
  slider.addEventListener('pointercancel', (e) => {
    if (touch?.id === e.pointerId && touch.means !== 'slide') scroll();
  });
  const end = () => {
    if (!touch) return;
    const { means, value } = touch;
    // The browser's own last words on this touch come behind it.
    if (means === 'scroll') {
      setTimeout(() => {
        slider.value = value;
        touch = null;
      }, 0);
      return;
    }
    touch = null;
    if (means === '' && slider.value !== value) { // a tap
      for (const kind of ['input', 'change']) slider.dispatchEvent(new Event(kind, { bubbles: true }));
    }
  };
  slider.addEventListener('touchend', end);
  slider.addEventListener('touchcancel', end);
}
