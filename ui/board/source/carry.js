// A check on its way to another bay or day, by pointer or by keys: where it would stand is drawn
// and said at once. Whether that is allowed, and what it costs, the page answers once it is dropped.

import { make } from "./elements.js";
import { RestingFinger } from "./touch.js";

const STARTS_AFTER = 4;
const EDGE = 40;
export const SHELF = -1;

export class Carry {
  constructor(board) {
    this.board = board;
    this.what = null;
    this.pressedAt = null;
    this.ghost = make("div", "ghost");
    this.ghost.setAttribute("aria-hidden", "true");
    this.words = make("span");
    this.ghost.append(this.words);
    this.pointer = null;
    this.finger = new RestingFinger(board.wide, (press) => this.takeAlong(press), () => this.isOn);
    board.wide.addEventListener("pointerdown", (event) => this.down(event));
    board.wide.addEventListener("pointermove", (event) => this.moved(event));
    board.wide.addEventListener("pointerup", (event) => this.up(event));
    board.wide.addEventListener("pointercancel", () => this.giveBack());
  }

  get isOn() {
    return this.what !== null;
  }

  begin(item) {
    const known = this.board.known.get(item);
    const one = known.block || known.waiting;
    if (!one) return false;
    const length = known.block ? one.until - one.first : Math.max(1, one.days);
    this.what = { item, one, length, bay: known.block ? one.bay : SHELF, day: one.first };
    item.classList.add("carried");
    this.places = this.board.places();
    this.ghost.style.width = `${length * this.board.px}px`;
    this.board.wide.append(this.ghost);
    return true;
  }

  // By keys.

  takeUp(item) {
    const { board } = this;
    if (!board.canMove || !this.begin(item)) return;
    this.byKeys = true;
    if (this.what.bay === SHELF) this.what.bay = 0;
    this.draw();
    board.say(`${board.words.takenUp.replace("#", this.what.one.check)} ${this.told()}`);
  }

  pressed(event) {
    const { what, board } = this;
    const step = event.shiftKey ? 7 : 1;
    const act = {
      ArrowLeft: () => this.to(what.bay, what.day - step),
      ArrowRight: () => this.to(what.bay, what.day + step),
      ArrowUp: () => this.to(what.bay - 1, what.day),
      ArrowDown: () => this.to(what.bay + 1, what.day),
      Enter: () => this.drop(),
      Escape: () => this.giveBack(),
      Tab: () => this.giveBack(),
    }[event.key];
    if (!act) return false;
    act();
    if (this.isOn) board.say(this.told());
    return event.key !== "Tab";
  }

  to(bay, day) {
    const { rows } = this.board;
    this.what.bay = Math.max(SHELF, Math.min(rows.bays.length - 1, bay));
    this.what.day = Math.max(0, Math.min(rows.day_count - 1, day));
    this.draw();
    this.board.reveal(this.ghost);
  }

  // By pointer.

  down(event) {
    if (event.button !== 0) return;
    if (!event.isPrimary) {
      this.giveBack(); // a second finger zooms the page
      return;
    }
    const item = event.target.closest(".item");
    if (item && this.board.canMove && this.board.known.get(item)?.check) {
      this.pressedAt = { item, x: event.clientX, y: event.clientY, id: event.pointerId };
      if (event.pointerType !== "mouse") this.finger.down(this.pressedAt);
    } else if (!item && event.target.closest(".track") && event.pointerType === "mouse") {
      this.panFrom = { x: event.clientX, left: this.board.scroller.scrollLeft };
    }
  }

  moved(event) {
    const { board } = this;
    if (this.panFrom) {
      board.scroller.scrollLeft = this.panFrom.left - (event.clientX - this.panFrom.x);
      return;
    }
    if (!this.pressedAt) return;
    if (!this.isOn) {
      const { x, y } = this.pressedAt;
      if (event.pointerType !== "mouse") {
        if (this.finger.hasSlipped(this.pressedAt, event)) this.letGo();
        return;
      }
      if (Math.hypot(event.clientX - x, event.clientY - y) < STARTS_AFTER) return;
      if (!this.takeAlong(this.pressedAt)) return;
    }
    event.preventDefault();
    const isWaited = this.pointer !== null;
    this.pointer = { x: event.clientX, y: event.clientY };
    if (!isWaited) requestAnimationFrame(() => this.follow());
  }

  takeAlong({ item, x, id }) {
    const { board } = this;
    if (this.isOn || !this.begin(item)) return false;
    this.byKeys = false;
    board.wide.setPointerCapture(id);
    board.tip.hide();
    this.grabbed = board.dayAt(x) - this.what.one.first;
    if (this.what.bay === SHELF) this.grabbed = Math.min(this.grabbed, this.what.length / 2);
    this.draw();
    return true;
  }

  letGo() {
    this.finger.up();
    this.panFrom = null;
    this.pressedAt = null;
  }

  // Once a frame, and without anything but the block under the pointer laid out anew.
  follow() {
    const { board, pointer } = this;
    this.pointer = null;
    if (!this.isOn || pointer === null) return;
    board.scrollAtEdge(pointer.x, pointer.y, EDGE);
    const day = Math.round(board.dayAt(pointer.x) - this.grabbed);
    this.what.day = Math.max(0, Math.min(board.rows.day_count - 1, day));
    this.what.bay = this.placeAt(pointer.y).bay;
    this.draw();
  }

  placeAt(clientY) {
    const y = clientY - this.board.wide.getBoundingClientRect().top;
    const away = (one) => Math.max(one.top - y, y - one.bottom, 0);
    return this.places.reduce((best, one) => (away(one) < away(best) ? one : best));
  }

  up() {
    this.letGo();
    if (this.pointer) this.follow();
    if (this.isOn && !this.byKeys) {
      this.justDropped = true;
      setTimeout(() => {
        this.justDropped = false;
      }, 0);
      this.drop();
    }
  }

  // Both ways.

  draw() {
    const { board, what } = this;
    const place = this.places.find((one) => one.bay === what.bay);
    const left = board.names + what.day * board.px;
    this.ghost.style.transform = `translate(${left}px, ${place.top + 2}px)`;
    const hidden = Math.max(0, board.scroller.scrollLeft + board.names - left);
    this.words.style.transform = `translate(${hidden}px, 0)`;
    this.words.textContent = this.told();
    this.ghost.classList.toggle("in-the-way", this.others().length > 0);
  }

  told() {
    const { board, what } = this;
    if (what.bay === SHELF) return `${what.one.check}: ${board.words.toShelf}`;
    const out = what.day + what.length;
    const bay = board.rows.bays[what.bay].name;
    const dates = `${board.words.in} ${board.dates.told(what.day)}, ${board.words.out} ${board.dates.told(out)}`;
    const others = this.others();
    const there = others.length ? `; ${board.words.there}: ${others.join(", ")}` : "";
    return `${what.one.check}: ${bay}, ${dates}${there}`;
  }

  others() {
    const { rows } = this.board;
    const { bay, day, length, one } = this.what;
    if (bay === SHELF) return [];
    const meets = (other) => other.bay === bay && other.first < day + length && other.until > day;
    return [
      ...rows.blocks.filter((other) => other.check !== one.check && meets(other)).map((b) => b.check),
      ...rows.taken
        .filter((other) => meets(other) && !other.label.endsWith(` ${one.check}`))
        .filter((other) => other.kind !== "changeover")
        .map((other) => other.label),
    ];
  }

  drop() {
    const { board, what } = this;
    const known = board.known.get(what.item);
    const isSame = known.block
      ? what.bay === what.one.bay && what.day === what.one.first
      : what.bay === SHELF;
    const value = {
      check: what.one.check,
      stage_from: known.block ? what.one.stage_from : "",
      bay: what.bay === SHELF ? null : board.rows.bays[what.bay].name,
      in_day: what.bay === SHELF ? null : board.dates.iso(what.day),
    };
    const told = this.told();
    this.end();
    if (isSame) {
      board.say(board.words.givenBack);
      return;
    }
    board.say(`${board.words.dropped} ${told}`);
    board.tell("moved", value);
  }

  giveBack() {
    this.letGo();
    if (!this.isOn) return;
    this.end();
    this.board.say(this.board.words.givenBack);
  }

  end() {
    this.ghost.remove();
    this.pointer = null;
    this.what.item.classList.remove("carried");
    this.what = null;
  }
}
