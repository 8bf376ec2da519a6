// The text while it is written: line numbers beside it, Ctrl+Enter, places to jump to.
export function attach(area, numbers, pane) {
  let laid = "", given = "";
  const count = () => {
    const lines = area.value.split("\n").length;
    if (numbers.childElementCount === lines) return;
    numbers.replaceChildren(...Array.from({ length: lines }, (_, k) => {
      const line = document.createElement("span");
      line.textContent = k + 1;
      return line;
    }));
    area.rows = lines;
  };
  area.addEventListener("input", count);
  area.addEventListener("keydown", event => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      pane.invokeMethodAsync("Keep");
    }
  });
  return {
    detach() { /* Its listeners go with the area. */ },
    lay(text) {
      // A text area gives every line end back as one sign; what was laid is remembered as it will be given back.
      area.value = text;
      laid = area.value;
      count();
    },
    isTouched: () => area.value !== laid,
    text() {
      given = area.value;
      return new TextEncoder().encode(given);
    },
    /** What was given last is kept: the text stays as it is, with what was written since, and the caret in it. */
    kept() {
      laid = given;
    },
    goTo(line, column) {
      const lines = area.value.split("\n");
      const before = lines.slice(0, line - 1).reduce((sum, l) => sum + l.length + 1, 0);
      const rest = lines[line - 1] ?? "";
      const start = before + Math.min(column - 1, rest.length);
      const word = /^[^\s,:[\]{}]+/.exec(rest.slice(column - 1));
      area.focus({ preventScroll: true });
      area.setSelectionRange(start, start + (word ? word[0].length : 1));
      numbers.children[Math.min(line, numbers.childElementCount) - 1]?.scrollIntoView({ block: "center" });
    },
  };
}
