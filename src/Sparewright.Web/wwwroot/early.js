// What is typed into the ledger before its own script has come: a value that was finished stays in sight until the script enters it, and the next goes
// into the next row. And, early or late: what is half typed in a cell is kept through a reload.
(() => {
  const draft = field => `sparewright.draft.${location.pathname}.${field.dataset.draft}`;

  document.addEventListener('input', e => {
    const field = e.target;
    if (!field.dataset?.draft) return;
    try {
      if (field.value) sessionStorage.setItem(draft(field), field.value);
      else sessionStorage.removeItem(draft(field));
    } catch { /* then it lasts as long as the page */ }
  }, true);

  const unheard = () => document.querySelector('.ledger [role=grid]:not([data-listens])');

  document.addEventListener('keydown', e => {
    const grid = unheard();
    if (!grid || e.altKey || e.ctrlKey || e.metaKey || e.isComposing) return;
    const entries = [...grid.querySelectorAll('input[data-cell=Entry]')], at = entries.indexOf(e.target);
    if (at >= 0 && e.key === 'Enter') {
      e.preventDefault();
      entries[at + 1]?.focus();
    } else if (at < 0 && /^[0-9.,]$/.test(e.key) && (e.target === document.body || e.target.matches('h1') || grid.contains(e.target))) entries.find(field => !field.value)?.focus();
  }, true);

  // A browser tells of a change when a field that somebody typed in is left, by the Enter key above too.
  document.addEventListener('change', e => { if (e.target.dataset?.draft && unheard()?.contains(e.target)) e.target.dataset.entered = 'yes'; }, true);
})();

// A page's heading takes the keyboard in the moment in which it is drawn, so that it is read out and the Tab key goes on from there. Were it asked for by the server, that would
// come a way later, and bring back whoever had gone on meanwhile: their next key would be lost.
(() => {
  let at = null;
  new MutationObserver(changes => {
    if (location.pathname === at) return;
    const heading = changes.flatMap(c => [...c.addedNodes]).filter(n => n.nodeType === 1).map(n => n.matches('h1') ? n : n.querySelector('h1')).find(h => h);
    if (!heading) return;
    at = location.pathname;
    heading.focus({ preventScroll: true });
  }).observe(document, { childList: true, subtree: true });
})();
