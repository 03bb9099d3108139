// The rows of a plan, kept in the page apart from the board. They come once, in a message of their
// own; what the board is given at every click names them by their stamp, with what differs.

const KEEPER = Symbol.for("rows of the planning board");
const keeper = (window[KEEPER] ??= { rows: new Map(), whenKept: new Map() });

export function isKept(name, stamp) {
  return keeper.rows.get(name)?.stamp === stamp;
}

export function keep(name, stamp, rows) {
  keeper.rows.set(name, { stamp, rows });
  keeper.whenKept.get(name)?.();
}

// The rows of just this stamp, or null: those of another plan are never shown in their place.
export function rowsOf(name, stamp) {
  return isKept(name, stamp) ? keeper.rows.get(name).rows : null;
}

export function whenKept(name, act) {
  keeper.whenKept.set(name, act);
}

// Rows as they are with what differs: in a list a number stands for the row that was in that place
// before. Rows that do not differ are the same objects then, so what is drawn of them can stay.
export function withChanges(rows, changes) {
  const changed = { ...rows };
  for (const [field, value] of Object.entries(changes)) {
    changed[field] = Array.isArray(value)
      ? value.map((one) => (typeof one === "number" ? rows[field][one] : one))
      : value;
  }
  return changed;
}
