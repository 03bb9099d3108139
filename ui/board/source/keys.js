// The board by keyboard: one stop of the Tab key for each of shelf, bays and weeks, and arrow keys
// within. M takes a check up; then arrows move it, Enter drops it, Escape gives it back.

const ITEM = ".item";

export class Keys {
  constructor(board) {
    this.board = board;
    board.wide.addEventListener("keydown", (event) => this.pressed(event));
    board.wide.addEventListener("focusin", (event) => this.entered(event));
  }

  // In each grid one element, the chosen or else the first, can be reached by Tab.
  stops() {
    for (const grid of this.board.grids) {
      const items = [...grid.querySelectorAll(ITEM)];
      const known = items.find((one) => one.tabIndex === 0);
      const chosen = items.find((one) => one.getAttribute("aria-selected") === "true");
      const stop = chosen || known || items[0];
      for (const one of items) one.tabIndex = one === stop ? 0 : -1;
    }
  }

  entered(event) {
    const item = event.target.closest(ITEM);
    if (!item) return;
    for (const one of item.closest("[role=grid]").querySelectorAll(`${ITEM}[tabindex="0"]`)) {
      one.tabIndex = -1;
    }
    item.tabIndex = 0;
    if (item.matches(":focus-visible")) {
      this.board.reveal(item);
      this.board.showTip(item);
    }
  }

  pressed(event) {
    const item = event.target.closest(ITEM);
    if (!item || event.ctrlKey || event.metaKey || event.altKey) return;
    const { board } = this;
    if (board.carry.isOn) {
      if (board.carry.pressed(event)) event.preventDefault();
      return;
    }
    const act = {
      ArrowLeft: () => this.along(item, -1),
      ArrowRight: () => this.along(item, 1),
      ArrowUp: () => this.across(item, -1),
      ArrowDown: () => this.across(item, 1),
      Home: () => this.end(item, 0),
      End: () => this.end(item, -1),
      Enter: () => board.pick(item),
      " ": () => board.pick(item),
      Escape: () => board.tip.hide(),
      "+": () => board.zoomBy(1.4),
      "-": () => board.zoomBy(1 / 1.4),
      0: () => board.zoomToAll(),
      m: () => board.carry.takeUp(item),
      M: () => board.carry.takeUp(item),
    }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }

  rowsOf(item) {
    const rows = new Map();
    for (const one of item.closest("[role=grid]").querySelectorAll(ITEM)) {
      if (one.classList.contains("dim")) continue;
      const { row } = this.board.known.get(one);
      if (!rows.has(row)) rows.set(row, []);
      rows.get(row).push(one);
    }
    for (const items of rows.values()) items.sort((one, other) => first(one) - first(other));
    return rows;
  }

  along(item, step) {
    const items = this.rowsOf(item).get(this.board.known.get(item).row) || [item];
    items[items.indexOf(item) + step]?.focus();
  }

  end(item, at) {
    this.rowsOf(item).get(this.board.known.get(item).row)?.at(at)?.focus();
  }

  across(item, step) {
    const rows = this.rowsOf(item);
    const numbers = [...rows.keys()].sort((one, other) => one - other);
    const here = this.board.known.get(item).row;
    const ahead = numbers.filter((number) => (number - here) * step > 0);
    const target = step > 0 ? ahead[0] : ahead.at(-1);
    if (target === undefined) return;
    const middle = first(item) + daysOf(item) / 2;
    const away = (one) => Math.abs(first(one) + daysOf(one) / 2 - middle);
    rows.get(target).reduce((best, one) => (away(one) < away(best) ? one : best)).focus();
  }
}

function first(element) {
  return Number(element.style.getPropertyValue("--first"));
}

function daysOf(element) {
  return Number(element.style.getPropertyValue("--days"));
}
