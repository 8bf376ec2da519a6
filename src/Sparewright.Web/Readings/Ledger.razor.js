// What the ledger needs the browser itself for: where the keyboard is, how fast keys come, and what is half typed through a reload.
// What an entry means and where the keyboard goes next is decided on the server.

const burstMs = 30;        // no hand types faster between two keys
const burstKeys = 4;       // and chance does not do so four times in a row
const answerMs = 15000;    // after this the server is taken to be away; what was typed stays

export function attach(grid, net, job) {
  const draftKey = id => `sparewright.draft.${job}.${id}`;
  const controller = new AbortController();
  const on = (target, type, act, capture) => target.addEventListener(type, act, { signal: controller.signal, capture });

  let asking = null;         // { text }: keys typed while the server answers
  let keyTimes = [];         // when the keys of the value in hand came
  let lastRow = null;

  const line = row => grid.querySelector(`[data-row="${row}"]`);
  const rowOf = element => element?.closest?.('[data-row]')?.dataset.row;
  const entryOf = row => line(row)?.querySelector('input[data-cell="Entry"]');
  const cells = () => grid.querySelectorAll('[data-cell]');

  function rove(cell) {
    for (const other of grid.querySelectorAll('[data-cell][tabindex="0"]')) if (other !== cell) other.tabIndex = -1;
    cell.tabIndex = 0;
  }

  function ensureStop() {
    if (grid.querySelector('[data-cell][tabindex="0"]')) return;
    const first = grid.querySelector('input[data-cell="Entry"]') ?? cells()[0];
    if (first) first.tabIndex = 0;
  }

  function target(going) {
    const row = line(going.row);
    if (going.cell === 'answer') return row?.querySelector('[data-answer]');
    if (going.cell === 'form') return grid.querySelector('.form-row select, .form-row input');
    return row?.querySelector(`[data-cell="${going.cell}"]`);
  }

  // What was asked for may be drawn a moment after the answer.
  function focus(going, tries = 10) {
    if (!going || going.row < 0) return;
    const found = target(going);
    if (!found && tries > 0) { requestAnimationFrame(() => focus(going, tries - 1)); return; }
    if (!found) return;
    found.focus({ preventScroll: true });
    (found.closest('.form-row') ?? found.closest('[data-row]') ?? found).scrollIntoView({ block: 'nearest' });
    if (found.matches('input') && found.value) found.select();
  }

  function keepDraft(input) {
    try {
      if (input.value) sessionStorage.setItem(draftKey(input.dataset.draft), input.value);
      else sessionStorage.removeItem(draftKey(input.dataset.draft));
    } catch { /* then it lasts as long as the page */ }
  }

  function empty(row) {
    const input = entryOf(row);
    if (!input) return;
    input.value = '';
    delete input.dataset.sent;
    keepDraft(input);
  }

  // In the hand of somebody who reads the next value already: keys that come while the server answers are kept and typed where it leads.
  async function ask(work) {
    asking = { text: '' };
    let late;
    const away = new Promise((_, fail) => { late = setTimeout(() => fail(new Error('the server does not answer')), answerMs); });
    try {
      return await Promise.race([work(), away]);
    } catch {
      return null;
    } finally {
      clearTimeout(late);
      const held = asking.text;
      asking = null;
      if (held) requestAnimationFrame(() => type(held));
    }
  }

  function type(held) {
    const input = document.activeElement?.matches?.('input[data-cell="Entry"]') ? document.activeElement : afterAnswer();
    if (!input) return;
    const end = held.indexOf('\n');
    input.value += end < 0 ? held : held.slice(0, end);
    keepDraft(input);
    if (end >= 0 && input === document.activeElement) {
      keyTimes = [];
      enter(input, true).then(() => { const rest = held.slice(end + 1); if (rest) type(rest); });
    }
  }

  // A question is open: what was typed meanwhile waits in the next row, unkept and in sight.
  function afterAnswer() {
    const all = [...grid.querySelectorAll('input[data-cell="Entry"]')];
    return all[all.findIndex(i => rowOf(i) === rowOf(document.activeElement)) + 1];
  }

  function isBurst() {
    if (keyTimes.length < burstKeys) return false;
    for (let k = 1; k < keyTimes.length; k++) if (keyTimes[k] - keyTimes[k - 1] >= burstMs) return false;
    return true;
  }

  async function enter(input, goOn) {
    const row = rowOf(input), typed = input.value;
    if (!typed.trim()) {
      if (goOn) focus(await net.invokeMethodAsync('Move', +row, 'Entry', 'ArrowDown', false));
      return;
    }
    input.dataset.sent = typed;
    const burst = isBurst();
    keyTimes = [];
    const going = await ask(async () => {
      const answer = await net.invokeMethodAsync('Enter', +row, typed, burst);
      if (answer?.taken) empty(row);
      if (goOn || (answer?.cell === 'answer' && document.activeElement === document.body)) focus(answer);
      return answer;
    });
    if (going === null) delete input.dataset.sent;
  }

  async function correct(input, line) {
    if (input.dataset.done) return;
    input.dataset.done = 'yes';
    const going = await ask(async () => {
      const answer = await net.invokeMethodAsync('Correct', +rowOf(input), line);
      return answer;
    });
    delete input.dataset.done;
    if (document.activeElement === input || document.activeElement === document.body) focus(going);
  }

  const isText = e => e?.matches?.('input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]');
  const moves = new Set(['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight', 'Home', 'End', 'PageUp', 'PageDown']);

  on(window, 'keydown', e => {
    // While the server answers, nothing that is typed goes to the wrong reading.
    if (asking && !e.ctrlKey && !e.metaKey && !e.altKey && (e.key.length === 1 || e.key === 'Enter') && (grid.contains(document.activeElement) || document.activeElement === document.body)) {
      e.preventDefault();
      e.stopPropagation();
      asking.text += e.key === 'Enter' ? '\n' : e.key;
      return;
    }

    if ((e.ctrlKey || e.metaKey) && !e.altKey) {
      const key = e.key.toLowerCase();
      const undo = key === 'z' && !e.shiftKey, redo = key === 'y' || (key === 'z' && e.shiftKey);
      if ((undo || redo) && !(isText(e.target) && e.target.value)) {
        e.preventDefault();
        net.invokeMethodAsync('Undo', redo);
        return;
      }
    }

    // A digit that would go nowhere goes to the reading in hand.
    const nowhere = !isText(e.target) && (grid.contains(e.target) || e.target === document.body || e.target.matches?.('h1'));
    if (nowhere && /^[0-9.,]$/.test(e.key) && !e.ctrlKey && !e.metaKey && !e.altKey) {
      const input = entryOf(rowOf(e.target)) ?? entryOf(lastRow) ?? grid.querySelector('input[data-cell="Entry"]');
      if (input) {
        if (e.target !== input && input.dataset.sent === input.value) input.value = '';
        keyTimes = [];
        input.focus();
        keyTimes.push(e.timeStamp);
      }
    }
  }, true);

  on(grid, 'keydown', async e => {
    const cell = e.target.closest('[data-cell]'), row = rowOf(e.target);
    if (!cell || e.altKey || e.isComposing) return;
    const isEntry = cell.matches('input[data-cell="Entry"]'), isCorrecting = cell.matches('input.correct');

    if (isCorrecting) {
      if (e.key === 'Enter') { e.preventDefault(); await correct(cell, cell.value); }
      else if (e.key === 'Escape') { e.preventDefault(); await correct(cell, null); }
      return;
    }

    if (isEntry && e.key.length === 1 && !e.ctrlKey && !e.metaKey) {
      if (!cell.value) keyTimes = [];
      keyTimes.push(e.timeStamp);
      return;
    }

    if (isEntry && e.key === 'Enter') { e.preventDefault(); await enter(cell, true); return; }
    if (isEntry && e.key === 'Escape' && cell.value) { e.preventDefault(); empty(row); return; }
    if (isEntry && e.key === 'F2') { e.preventDefault(); cell.select(); return; }

    if (moves.has(e.key) && !e.shiftKey) {
      const editing = isEntry && cell.value;
      if (editing && !(e.key === 'ArrowUp' || e.key === 'ArrowDown' || e.key === 'PageUp' || e.key === 'PageDown')) return;
      e.preventDefault();
      focus(await net.invokeMethodAsync('Move', +row, cell.dataset.cell, e.key, e.ctrlKey || e.metaKey));
      return;
    }

    if (e.key === 'Enter' || e.key === 'F2') { e.preventDefault(); focus(await net.invokeMethodAsync('Open', +row, cell.dataset.cell)); return; }
    if (e.key === 'Delete' && (cell.dataset.cell === 'Id' || cell.dataset.cell === 'What')) { e.preventDefault(); focus(await net.invokeMethodAsync('Remove', +row)); }
  });

  on(grid, 'input', e => { if (e.target.matches('input[data-cell="Entry"]')) { delete e.target.dataset.sent; keepDraft(e.target); } });

  on(grid, 'dblclick', async e => {
    const cell = e.target.closest('[data-cell]');
    if (cell && !isText(cell)) focus(await net.invokeMethodAsync('Open', +rowOf(cell), cell.dataset.cell));
  });

  on(grid, 'mousedown', e => {
    const cell = e.target.closest('[data-cell]');
    if (cell && !isText(cell)) { e.preventDefault(); cell.focus(); }
  });

  on(grid, 'focusin', e => {
    const cell = e.target.closest('[data-cell]'), row = rowOf(e.target);
    if (cell) rove(cell);
    if (row && row !== lastRow) { lastRow = row; net.invokeMethodAsync('InHand', +row); }
  });

  // Leaving a cell keeps what was typed in it.
  on(grid, 'focusout', e => {
    const input = e.target;
    if (asking || !document.hasFocus()) return;
    if (input.matches('input.correct')) correct(input, input.value);
    else if (input.matches('input[data-cell="Entry"]') && input.value && input.dataset.sent !== input.value) enter(input, false);
  });

  const watcher = new MutationObserver(() => { ensureStop(); restore(); });

  // What was half typed when the page went is there again, once.
  const restored = new WeakSet();
  function restore() {
    for (const input of grid.querySelectorAll('input[data-draft]')) {
      if (restored.has(input)) continue;
      restored.add(input);
      try { input.value = sessionStorage.getItem(draftKey(input.dataset.draft)) ?? ''; } catch { return; }
    }
  }

  watcher.observe(grid, { childList: true, subtree: true });
  ensureStop();
  restore();
  const wanted = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (wanted && grid.contains(wanted)) focus({ row: wanted.dataset.row, cell: 'Entry' });

  return {
    go(from, going) { if (going.taken) empty(from); focus(going); },
    detach() { controller.abort(); watcher.disconnect(); },
  };
}
