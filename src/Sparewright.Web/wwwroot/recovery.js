// A window whose line to the shop is down finds its way back by itself: it asks again and again, and when the shop that answers is another one (it was closed
// and opened again) it loads the same page anew. What was half typed then stands in its field again.
(() => {
  const quickTries = 40, quickMs = 250, slowMs = 2000;   // ten seconds of quick tries cover a restart
  const settledMs = 3000;                                // after this what was entered has been kept
  const waitMs = 15000;                                  // how long a page may take to draw a field that is waited for
  const store = `sparewright.pending.${location.pathname}`;
  let isDown = false;

  document.getElementById('line-lost').addEventListener('components-reconnect-state-changed', e => {
    isDown = e.detail.state !== 'hide';
    if (e.detail.state === 'rejected') location.reload();
  });

  const read = () => { try { return JSON.parse(sessionStorage.getItem(store)) ?? {}; } catch { return {}; } };
  const write = pending => {
    try {
      if (Object.keys(pending).length > 0) sessionStorage.setItem(store, JSON.stringify(pending));
      else sessionStorage.removeItem(store);
    } catch { /* then it lasts as long as the page */ }
  };

  // The ledger keeps its own cells: it knows which reading they belong to.
  const isKept = field => field.matches?.('input:not([type]), input[type=text], input[type=search], textarea') && !field.dataset.draft && !field.readOnly;
  const keyOf = field => field.id || field.name || field.getAttribute('aria-label') || field.labels?.[0]?.textContent.trim() || '';

  document.addEventListener('input', e => {
    const field = e.target, key = isKept(field) && keyOf(field);
    if (key) write({ ...read(), [key]: field.value });
  }, true);

  function entered(field) {
    const key = isKept(field) && keyOf(field), value = field.value;
    if (!key) return;
    setTimeout(() => {
      const pending = read();
      if (isDown || pending[key] !== value) return;
      delete pending[key];
      write(pending);
    }, settledMs);
  }

  document.addEventListener('change', e => entered(e.target), true);
  document.addEventListener('keydown', e => { if (e.key === 'Enter') entered(e.target); }, true);

  function restore() {
    const waiting = read();
    if (Object.keys(waiting).length === 0) return;
    const watcher = new MutationObserver(find);
    function find() {
      for (const field of document.querySelectorAll('input, textarea')) {
        const key = isKept(field) && keyOf(field);
        if (!key || !(key in waiting)) continue;
        const typed = waiting[key];
        delete waiting[key];
        if (field.value === typed) continue;
        field.value = typed;
        field.dispatchEvent(new Event('input', { bubbles: true }));
        // A browser tells of a change only when somebody typed.
        field.addEventListener('blur', () => field.dispatchEvent(new Event('change', { bubbles: true })), { once: true });
      }
      if (Object.keys(waiting).length === 0) watcher.disconnect();
    }
    watcher.observe(document.body, { childList: true, subtree: true });
    setTimeout(() => watcher.disconnect(), waitMs);
    find();
  }

  Blazor.start({
    circuit: { reconnectionOptions: { dialogId: 'line-lost', maxRetries: undefined, retryIntervalMilliseconds: tries => tries < quickTries ? quickMs : slowMs } },
  }).then(restore);
})();
