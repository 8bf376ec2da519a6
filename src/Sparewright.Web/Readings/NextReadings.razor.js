// In the hand of somebody who reads the next value already: keys that come while a value is being kept wait, and are typed where the keyboard stands then.

const answerMs = 15000;    // after this the server is taken to be away

export function attach(list) {
  const controller = new AbortController();
  const held = [];
  let busy = false, late = 0;

  const fieldOf = element => element?.closest?.('input');
  const isHere = element => element === document.body || list.contains(element);

  // As the browser writes: in place of what is selected; nothing takes away the character before.
  function write(field, text) {
    const { selectionStart: start, selectionEnd: end } = field;
    field.setRangeText(text, text || start < end ? start : Math.max(0, start - 1), end, 'end');
    field.dispatchEvent(new Event('input', { bubbles: true }));
  }

  function begin() {
    busy = true;
    list.setAttribute('aria-busy', 'true');
    late = setTimeout(release, answerMs);
  }

  function release() {
    clearTimeout(late);
    busy = false;
    list.setAttribute('aria-busy', 'false');
    const field = list.contains(document.activeElement) ? fieldOf(document.activeElement) : null;
    while (!busy && held.length) {
      const key = held.shift();
      if (!field) continue;
      if (key !== 'Enter') write(field, key === 'Backspace' ? '' : key);
      else {
        begin();
        // A browser tells of a change only when somebody typed.
        field.dispatchEvent(new Event('change', { bubbles: true }));
        field.form.requestSubmit();
      }
    }
  }

  addEventListener('keydown', e => {
    if (e.altKey || e.ctrlKey || e.metaKey || e.isComposing || !isHere(document.activeElement)) return;
    const isOurs = e.key.length === 1 || e.key === 'Backspace' || e.key === 'Enter';
    if (busy && isOurs) {
      e.preventDefault();
      e.stopPropagation();
      held.push(e.key);
    } else if (e.key === 'Enter' && fieldOf(e.target) && list.contains(e.target)) begin();
  }, { capture: true, signal: controller.signal });

  list.setAttribute('aria-busy', 'false');
  return { release, detach() { controller.abort(); clearTimeout(late); } };
}
