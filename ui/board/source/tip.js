// What stands behind a mark, beside the pointer or below what has the focus.

import { make } from "./elements.js";

export class Tip {
  constructor(root) {
    this.element = make("div", "tip");
    this.element.setAttribute("aria-hidden", "true"); // the mark says the same to a screen reader
    this.element.hidden = true;
    root.append(this.element);
  }

  show(lines, x, y) {
    this.element.replaceChildren(...lines.map((line) => make("div", "", line)));
    this.element.hidden = false;
    const { width, height } = this.element.getBoundingClientRect();
    const left = Math.max(4, Math.min(x + 14, window.innerWidth - width - 8));
    const below = y + 18 + height < window.innerHeight;
    this.element.style.left = `${left}px`;
    this.element.style.top = `${below ? y + 18 : Math.max(4, y - height - 10)}px`;
  }

  hide() {
    this.element.hidden = true;
  }
}
