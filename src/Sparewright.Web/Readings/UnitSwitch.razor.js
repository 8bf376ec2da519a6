// Each person's choice of unit, kept in this browser.
const key = 'sparewright.unit';

export function kept() {
  try { return localStorage.getItem(key); } catch { return null; }
}

export function keep(unit) {
  try { localStorage.setItem(key, unit); } catch { /* private windows may refuse; then it lasts as long as the page */ }
}
