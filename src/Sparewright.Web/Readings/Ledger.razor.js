// What the ledger needs the browser itself for: where the keyboard is, how fast keys come, and what is half typed through a reload.
// What an entry means and where the keyboard goes next is decided on the server.

const burstMs = 30;        // no hand types faster between two keys
const burstKeys = 4;       // and chance does not do so four times in a row
const drawMs = 5000;       // after this what the server speaks of is taken not to come
const answerMs = 15000;    // after this the server is taken to be away; what was typed stays

export function attach(grid, net) {
  const controller = new AbortController();
  const on = (target, type, act, capture) => target.addEventListener(type, act, { signal: controller.signal, capture });

  let busy = false;          // the server answers, or keys that came meanwhile are being typed
  let away = false;          // it did not
  const held = [];           // { key, ctrl, at, redo }: keys that came while busy, in their order; { to }: a cell that was clicked, or { left }: an input that was left
  let spare = null;          // where the next value waits while a question is open
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
    if (going.cell === 'correction') return row?.querySelector('input.correct');
    return row?.querySelector(`[data-cell="${going.cell}"]:not(.correct)`);
  }

  // What was asked for may be drawn a while after the answer: a server that waits for a slow browser answers, and draws later.
  async function focus(going) {
    if (!going || going.row < 0) return;
    let found = target(going);
    for (const until = performance.now() + drawMs; !found && performance.now() < until;) {
      await new Promise(done => setTimeout(done, 10));
      found = target(going);
    }

    if (!found) return;
    found.focus({ preventScroll: true });
    (found.closest('.form-row') ?? found.closest('[data-row]') ?? found).scrollIntoView({ block: 'nearest' });
    if (found.matches('input') && found.value) found.select();
  }

  // As a browser says it when somebody types: what is half typed is kept (early.js).
  const tell = input => input.dispatchEvent(new Event('input', { bubbles: true }));

  function empty(row) {
    const input = entryOf(row);
    if (!input) return;
    input.value = '';
    tell(input);
  }

  // A question to the server; null when it does not answer.
  async function ask(method, ...what) {
    let late;
    const silence = new Promise((_, fail) => { late = setTimeout(() => fail(new Error('the server does not answer')), answerMs); });
    try {
      const answer = await Promise.race([net.invokeMethodAsync(method, ...what), silence]);
      away = false;
      return answer;
    } catch {
      away = true;
      return null;
    } finally {
      clearTimeout(late);
    }
  }

  // In the hand of somebody who reads the next value already: keys that come while the server answers are held, and pressed where it leads.
  async function run(deed) {
    busy = true;
    spare = null;
    try {
      await deed();
      while (held.length) await press(held.shift());
    } finally {
      busy = false;
    }
  }

  // The keyboard goes where the answer leads, unless it went elsewhere meanwhile.
  async function follow(from, going) {
    const now = document.activeElement;
    if (now === from || now === document.body) await focus(going);
  }

  async function go(cell, method, ...what) {
    await follow(cell, await ask(method, +rowOf(cell), ...what));
  }

  async function press({ key, ctrl, at, redo, to, left }) {
    if (left) { await leave(left); return; }
    if (to) { to.focus(); return; }
    if (redo !== null) { await ask('Undo', redo); return; }
    const active = document.activeElement, cell = active?.closest?.('[data-cell]');
    const types = key.length === 1 && !ctrl;
    if (away || !cell) { putBehind({ key, ctrl, at }); return; }

    if (types || key === 'Backspace') {
      const input = cell.matches('input') ? cell : entryOf(rowOf(cell));
      if (!input) return;
      if (input !== cell) input.focus();
      write(input, types ? key : '', at);
      return;
    }

    await deedOf(cell, key, ctrl)?.();
  }

  // A question is open, or the server away: what is typed waits in the rows behind, unkept and in sight.
  function putBehind({ key, ctrl, at }) {
    const active = document.activeElement, cell = active?.closest?.('[data-cell]');
    spare ??= isEntry(cell) && !cell.value ? cell : grid.contains(active) ? entryAfter(active) : entryOf(lastRow);
    if (spare && key?.length === 1 && !ctrl) write(spare, key, at);
    else if (spare && key === 'Backspace') write(spare, '', at);
    else if (spare && key === 'Enter') spare = entryAfter(spare);
  }

  // As the browser writes: in place of what is selected; nothing takes away the character before.
  function write(input, text, at) {
    if (!input.value) keyTimes = [];
    keyTimes.push(at);
    const { selectionStart: start, selectionEnd: end } = input;
    input.setRangeText(text, text || start < end ? start : Math.max(0, start - 1), end, 'end');
    if (isEntry(input)) tell(input);
  }

  function entryAfter(element) {
    const all = [...grid.querySelectorAll('input[data-cell="Entry"]')];
    return all[all.findIndex(i => rowOf(i) === rowOf(element)) + 1];
  }

  function isBurst() {
    if (keyTimes.length < burstKeys) return false;
    for (let k = 1; k < keyTimes.length; k++) if (keyTimes[k] - keyTimes[k - 1] >= burstMs) return false;
    return true;
  }

  async function enter(input, goOn) {
    const row = rowOf(input), typed = input.value;
    if (!typed.trim()) {
      if (goOn) await go(input, 'Move', 'Entry', 'ArrowDown', false);
      return;
    }

    input.dataset.sent = typed;
    const burst = isBurst();
    keyTimes = [];
    const answer = await ask('Enter', +row, typed, burst);
    if (answer === null) { delete input.dataset.sent; return; }
    if (answer.taken) empty(row);
    if (goOn) await follow(input, answer);
    else if (answer.cell === 'answer') await follow(null, answer);
  }

  async function correct(input, line) {
    if (input.dataset.done) return;
    input.dataset.done = 'yes';
    const answer = await ask('Correct', +rowOf(input), line);
    delete input.dataset.done;
    await follow(input, answer);
  }

  // Leaving a cell keeps what was typed in it.
  async function leave(input) {
    if (!input.isConnected) return;
    if (input.matches('input.correct')) await correct(input, input.value);
    else if (input.value && input.dataset.sent !== input.value) await enter(input, false);
  }

  const isEntry = e => !!e?.matches?.('input[data-cell="Entry"]');
  const isText = e => e?.matches?.('input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]');
  const upAndDown = new Set(['ArrowUp', 'ArrowDown', 'PageUp', 'PageDown']);
  const moves = new Set([...upAndDown, 'ArrowLeft', 'ArrowRight', 'Home', 'End']);
  const others = new Set(['Enter', 'Backspace', 'Delete', 'Escape', 'F2']);

  // What a key does on a cell; null where the browser itself knows best.
  function deedOf(cell, key, ctrl) {
    const name = cell.dataset.cell;
    if (cell.matches('input.correct')) return key === 'Enter' ? () => correct(cell, cell.value) : key === 'Escape' ? () => correct(cell, null) : null;
    if (isEntry(cell)) {
      if (key === 'Enter') return () => enter(cell, true);
      if (key === 'Escape' && cell.value) return async () => empty(rowOf(cell));
      if (key === 'F2') return async () => cell.select();
      if (moves.has(key) && cell.value && !upAndDown.has(key)) return null;
    }

    if (moves.has(key)) return () => go(cell, 'Move', name, key, ctrl);
    if (key === 'Enter' || key === 'F2') return () => go(cell, 'Open', name);
    if (key === 'Delete' && (name === 'Id' || name === 'What')) return () => go(cell, 'Remove');
    return null;
  }

  // null for any other key; else whether redo is meant.
  function redoes(key, ctrl, shift) {
    const letter = key.toLowerCase();
    return !ctrl ? null : letter === 'z' ? shift : letter === 'y' ? true : null;
  }

  on(window, 'keydown', e => {
    // While the server answers, nothing that is typed goes to the wrong reading.
    const ctrl = e.ctrlKey || e.metaKey, active = document.activeElement, redo = e.altKey ? null : redoes(e.key, ctrl, e.shiftKey);
    const holds = !e.altKey && (redo !== null || (moves.has(e.key) ? !e.shiftKey : !ctrl && (e.key.length === 1 || others.has(e.key))));
    if (busy && holds && (active === document.body || (grid.contains(active) && active.closest('[data-cell]')))) {
      e.preventDefault();
      e.stopPropagation();
      held.push({ key: e.key, ctrl, at: e.timeStamp, redo });
      return;
    }

    if (redo !== null && !(isText(e.target) && e.target.value)) {
      e.preventDefault();
      ask('Undo', redo);
      return;
    }

    // A digit that would go nowhere goes to the reading in hand, unless another list holds it.
    const nowhere = !isText(e.target) && !document.querySelector('[aria-busy=true]') && (grid.contains(e.target) || e.target === document.body || e.target.matches?.('h1'));
    if (nowhere && /^[0-9.,]$/.test(e.key) && !ctrl && !e.altKey) {
      const input = entryOf(rowOf(e.target)) ?? entryOf(lastRow) ?? grid.querySelector('input[data-cell="Entry"]');
      if (input) {
        if (e.target !== input && input.dataset.sent === input.value) input.value = '';
        keyTimes = [];
        input.focus();
        keyTimes.push(e.timeStamp);
      }
    }
  }, true);

  on(grid, 'keydown', e => {
    const cell = e.target.closest('[data-cell]');
    if (!cell || e.altKey || e.isComposing || (moves.has(e.key) && e.shiftKey)) return;
    const ctrl = e.ctrlKey || e.metaKey;
    if (isEntry(cell) && e.key.length === 1 && !ctrl) {
      if (!cell.value) keyTimes = [];
      keyTimes.push(e.timeStamp);
      return;
    }

    const deed = deedOf(cell, e.key, ctrl);
    if (!deed) return;
    e.preventDefault();
    if (!busy) run(deed);
  });

  on(grid, 'input', e => { if (isEntry(e.target)) delete e.target.dataset.sent; });

  on(grid, 'dblclick', e => {
    const cell = e.target.closest('[data-cell]');
    if (cell && !isText(cell) && !busy) run(() => go(cell, 'Open', cell.dataset.cell));
  });

  on(grid, 'mousedown', e => {
    const cell = e.target.closest('[data-cell]');
    if (!cell || (isText(cell) && !busy)) return;
    e.preventDefault();
    if (busy) held.push({ to: cell });
    else cell.focus();
  });

  on(grid, 'focusin', e => {
    const cell = e.target.closest('[data-cell]'), row = rowOf(e.target);
    if (cell) rove(cell);
    inHand(row);
  });

  on(grid, 'focusout', e => {
    if (!document.hasFocus() || !(isEntry(e.target) || e.target.matches('input.correct'))) return;
    if (busy) held.unshift({ left: e.target });
    else run(() => leave(e.target));
  });

  function inHand(row) {
    if (!row || row === lastRow) return;
    lastRow = row;
    ask('InHand', +row);
  }

  // The page goes before the server has answered, perhaps since there is no server any more: what was typed meanwhile stands in the next page.
  on(window, 'pagehide', () => { for (const key of held.splice(0)) putBehind(key); });

  const watcher = new MutationObserver(() => { ensureStop(); restore(); });

  // What was half typed when the page went is there again, once, unless somebody typed already.
  const restored = new WeakSet();
  function restore() {
    for (const input of grid.querySelectorAll('input[data-draft]')) {
      if (restored.has(input)) continue;
      restored.add(input);
      if (input.value) continue;
      try { input.value = sessionStorage.getItem(`sparewright.draft.${location.pathname}.${input.dataset.draft}`) ?? ''; } catch { return; }
    }
  }

  watcher.observe(grid, { childList: true, subtree: true });
  ensureStop();
  restore();
  const wanted = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const begun = document.activeElement;
  if (grid.contains(begun)) {
    if (begun.matches('[data-cell]')) rove(begun);
    inHand(rowOf(begun));
  } else if (wanted && grid.contains(wanted)) focus({ row: wanted.dataset.row, cell: 'Entry' });

  // What was entered before this script came.
  grid.dataset.listens = 'yes';
  const early = [...grid.querySelectorAll('input[data-entered]')];
  if (early.length > 0) run(async () => {
    for (const input of early) {
      delete input.dataset.entered;
      await enter(input, false);
    }
  });

  return {
    go(from, going) { if (going.taken) empty(from); focus(going); },
    detach() { controller.abort(); watcher.disconnect(); delete grid.dataset.listens; },
  };
}
