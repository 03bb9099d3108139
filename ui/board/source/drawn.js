// What is drawn of each row. One that is the same object as before keeps its elements, so that a
// check moved by hand takes as long as that check, not as long as a year.

export class Drawn {
  constructor() {
    this.elements = new Map();
    this.known = new Map();
    this.before = { elements: new Map(), known: new Map() };
  }

  // Without `staysTheSame`, as with other colours, everything is drawn anew.
  begin(staysTheSame) {
    const { elements, known } = this;
    this.before = staysTheSame
      ? { elements, known }
      : { elements: new Map(), known: new Map() };
    this.elements = new Map();
    this.known = new Map();
  }

  know(element, what) {
    this.known.set(element, what);
  }

  of(row, draw) {
    const there = this.before.elements.get(row);
    if (there === undefined) {
      this.elements.set(row, draw());
      return this.elements.get(row);
    }
    this.elements.set(row, there);
    for (const element of there) {
      const what = this.before.known.get(element);
      if (what !== undefined) this.known.set(element, what);
    }
    return there;
  }
}

// Have an element hold just these, in this order, and touch none that is in its place.
export function hold(parent, wanted) {
  const all = new Set(wanted);
  for (const element of [...parent.children]) if (!all.has(element)) element.remove();
  let at = parent.firstElementChild;
  for (const element of wanted) {
    if (element === at) at = at.nextElementSibling;
    else parent.insertBefore(element, at);
  }
}
