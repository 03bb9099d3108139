// The board as a whole: one axis of days, `px` pixels each, for all that is drawn upon it.

import { drawBays, drawShelf } from "./bays.js";
import { Carry, SHELF } from "./carry.js";
import { Dates } from "./dates.js";
import { Drawn } from "./drawn.js";
import { make } from "./elements.js";
import { Filter } from "./filter.js";
import { drawHead } from "./head.js";
import { Keys } from "./keys.js";
import { drawLegend } from "./legend.js";
import { drawList } from "./list.js";
import { rowsOf, withChanges } from "./plan_rows.js";
import { Tip } from "./tip.js";
import { drawColumns, drawHeat } from "./weeks.js";

const PHONE = 640;
const WIDEST_DAY = 90;
const NAMED_STAGES = 11;
const FIRST_DAYS = 112;
const STEP = 1.4;

export class Board {
  constructor(parent, kept) {
    this.kept = kept;
    this.drawn = new Drawn();
    this.root = make("div", "board");
    this.makeParts();
    parent.append(this.root);
    this.tip = new Tip(this.root);
    this.carry = new Carry(this);
    this.keys = new Keys(this);
    this.listen();
  }

  makeParts() {
    this.bar = make("div", "bar");
    this.title = make("h2", "title");
    this.bar.append(this.title);
    this.filter = new Filter(this.bar, () => this.applyFilter());
    this.zooms = make("div", "zooms");
    this.behind = make("button", "behind");
    this.behind.type = "button";
    this.behind.addEventListener("click", () => goBehind());
    this.bar.append(this.behind, this.zooms);
    this.scroller = make("div", "scroller");
    this.wide = make("div", "wide");
    this.months = make("div", "months");
    this.below = make("div", "days");
    this.head = make("div", "head");
    this.corner = make("div", "name corner");
    const axis = make("div", "axis");
    axis.append(this.months, this.below);
    this.head.append(this.corner, axis);
    this.head.setAttribute("aria-hidden", "true"); // every mark says its own dates
    this.shelf = grid("shelf");
    this.bays = grid("bays");
    this.heat = grid("heat-map");
    this.columns = make("div", "columns");
    this.columns.setAttribute("aria-hidden", "true"); // the cells above say the same hours
    this.hours = make("div", "hours");
    this.hours.append(this.heat, this.columns);
    this.lines = make("div", "lines");
    this.lines.setAttribute("aria-hidden", "true");
    this.wide.append(this.lines, this.head, this.shelf, this.bays, this.hours);
    this.scroller.append(this.wide);
    this.list = make("div", "list");
    this.legend = make("div", "legend");
    this.help = make("div", "help");
    this.live = make("div", "live");
    this.live.setAttribute("aria-live", "assertive");
    this.root.append(this.bar, this.scroller, this.list, this.help, this.legend, this.live);
    this.grids = [this.shelf, this.bays, this.heat];
  }

  listen() {
    this.wide.addEventListener("click", (event) => {
      const item = event.target.closest(".item");
      if (item && !this.carry.justDropped) this.pick(item);
    });
    this.wide.addEventListener("pointerover", (event) => {
      const item = event.target.closest(".item");
      if (!item || this.carry.isOn) return;
      const strip = event.target.closest(".strip");
      this.showTip(item, event, strip ? [strip.dataset.told] : []);
    });
    this.wide.addEventListener("pointerout", () => this.tip.hide());
    this.wide.addEventListener("focusout", () => this.tip.hide());
    this.scroller.addEventListener("scroll", () => {
      this.kept.left = this.scroller.scrollLeft;
      this.kept.top = this.scroller.scrollTop;
      this.follow();
    });
    this.scroller.addEventListener(
      "wheel",
      (event) => {
        if (!event.ctrlKey) return;
        event.preventDefault();
        this.zoomBy(Math.exp(-event.deltaY / 300), event.clientX);
      },
      { passive: false },
    );
    new ResizeObserver(() => this.resized()).observe(this.root);
  }

  show(data) {
    const rows = rowsOf(data.name, data.stamp);
    this.root.setAttribute("aria-busy", String(rows === null));
    if (rows === null) return; // they are on their way, and have this called again
    const isNew = data.stamp !== this.stamp || data.version !== this.version;
    this.words = data.words;
    this.canMove = data.can_move;
    this.chosen = data.chosen;
    this.look = data.look;
    if (isNew) {
      this.stamp = data.stamp;
      this.version = data.version;
      this.rows = withChanges(rows, data.changes);
      const frame = frameOf(this.rows, data.look);
      this.staysTheSame = frame === this.frame;
      this.frame = frame;
      this.dates = new Dates(this.rows.first, data.words);
      this.dayCount = this.rows.day_count;
      if (!this.rows.hours.some((one) => one.skill === this.kept.skill)) {
        this.kept.skill = this.rows.hours[0]?.skill;
      }
      this.drawAll();
    }
    this.skillChosen(data.chosen);
    this.markChosen(isNew);
  }

  drawAll() {
    const { look, words, rows } = this;
    for (const [name, value] of Object.entries(look.page)) {
      this.root.style.setProperty(`--${name}`, value);
    }
    this.root.style.colorScheme = look.name;
    this.drawn.begin(this.staysTheSame);
    this.filter.fill(words, [...rows.waiting, ...rows.blocks]);
    this.drawButtons();
    this.corner.textContent = words.bay;
    this.title.textContent = words.title;
    this.help.textContent = words.help;
    this.shelf.setAttribute("aria-label", words.shelfGrid);
    this.bays.setAttribute("aria-label", words.bayGrid);
    this.heat.setAttribute("aria-label", words.heatGrid);
    const names = [...rows.bays.map((bay) => bay.name), ...rows.skills, words.shelf];
    const longest = Math.max(...names.map((name) => name.length));
    this.names = Math.min(170, Math.max(96, 7.2 * longest + 18));
    this.root.style.setProperty("--names", `${this.names}px`);
    this.wide.style.setProperty("--day-count", this.dayCount);
    drawShelf(this.shelf, this);
    drawBays(this.bays, this);
    drawHeat(this.heat, this);
    drawColumns(this.columns, this);
    drawLegend(this.legend, this);
    this.drawLines();
    this.findLabels();
    this.setPx(this.kept.px || this.firstPx());
    this.applyFilter();
    this.keys.stops();
    if (this.kept.left === undefined) this.goToToday();
    else this.scroller.scrollTo(this.kept.left, this.kept.top);
  }

  drawButtons() {
    const { words } = this;
    const button = (text, told, act) => {
      const element = make("button", "", text);
      element.type = "button";
      element.title = told;
      element.setAttribute("aria-label", told);
      element.addEventListener("click", act);
      return element;
    };
    const buttons = [
      button("\u2212", words.zoomOut, () => this.zoomBy(1 / STEP)),
      button("+", words.zoomIn, () => this.zoomBy(STEP)),
      button(words.all, words.allTold, () => this.zoomToAll()),
    ];
    if (this.rows.today !== null) {
      buttons.push(button(words.today, words.todayTold, () => this.goToToday()));
    }
    this.zooms.replaceChildren(...buttons);
  }

  drawLines() {
    this.lines.replaceChildren();
    const { today, begins } = this.rows;
    const line = (day, className, text) => {
      const element = make("div", `moment ${className}`);
      element.style.setProperty("--first", day);
      element.append(make("span", "", text));
      this.lines.append(element);
    };
    if (begins !== null && begins !== today) line(begins, "begins", this.words.begins);
    if (today !== null) line(today, "today", this.words.todayLine);
  }

  get known() {
    return this.drawn.known;
  }

  know(element, what) {
    this.drawn.know(element, what);
  }

  // A mark that begins left of what is seen keeps its words in sight. As sticky elements each of
  // them would be a layer of its own, which takes a tenth of a second a frame for a year.
  follow() {
    const from = this.scroller.scrollLeft / this.px;
    for (const label of this.labels) {
      const { first, until } = label;
      const hidden = first < from && from < until ? (from - first) * this.px : 0;
      if (hidden === label.hidden) continue;
      label.hidden = hidden;
      label.element.style.transform = hidden ? `translateX(${hidden}px)` : "";
    }
  }

  findLabels() {
    this.labels = [];
    for (const [item, { block, waiting, taken }] of this.known) {
      const element = item.querySelector(".follows");
      const one = block || waiting || taken;
      if (element && one) {
        this.labels.push({ element, first: one.first, until: one.until, hidden: null });
      }
    }
  }

  // Zoom and place.

  get fitting() {
    const width = this.scroller.clientWidth || 1000;
    return Math.max(1, (width - this.names - 2) / this.dayCount);
  }

  firstPx() {
    const width = this.scroller.clientWidth || 1000;
    return Math.max(this.fitting, (width - this.names) / Math.min(this.dayCount, FIRST_DAYS));
  }

  get px() {
    return this.kept.px;
  }

  setPx(px) {
    this.kept.px = Math.min(WIDEST_DAY, Math.max(this.fitting, px));
    this.wide.style.setProperty("--px", `${this.px}px`);
    this.root.classList.toggle("zoomed", this.px >= NAMED_STAGES);
    this.root.classList.toggle("narrow-weeks", 7 * this.px < 62);
    this.root.classList.toggle("narrowest-weeks", 7 * this.px < 34);
    drawHead(this.months, this.below, this);
    this.follow();
  }

  zoomBy(factor, clientX) {
    const box = this.scroller.getBoundingClientRect();
    const focused = this.focusedItem()?.getBoundingClientRect();
    const middle = box.left + (this.names + box.width) / 2;
    const at = clientX ?? (focused ? focused.left + focused.width / 2 : middle);
    const day = this.dayAt(at);
    this.setPx(this.px * factor);
    this.scroller.scrollLeft = day * this.px - (at - box.left - this.names);
  }

  zoomToAll() {
    this.setPx(this.fitting);
    this.scroller.scrollLeft = 0;
  }

  goToToday() {
    const day = this.rows.today ?? this.rows.begins ?? 0;
    this.scroller.scrollLeft = Math.max(0, (day - 7) * this.px);
  }

  resized() {
    if (!this.rows) return;
    const isPhone = this.root.clientWidth > 0 && this.root.clientWidth < PHONE;
    const changed = isPhone !== this.isPhone;
    this.isPhone = isPhone;
    this.root.classList.toggle("phone", isPhone);
    if (changed && isPhone) drawList(this.list, this);
    if (changed && !isPhone) this.list.replaceChildren();
    if (!isPhone) {
      if (!this.kept.isPlaced && this.scroller.clientWidth) {
        this.kept.isPlaced = true;
        this.kept.px = this.firstPx();
        this.setPx(this.px);
        this.goToToday();
      } else {
        this.setPx(this.px);
      }
      const share = this.hours.offsetHeight / Math.max(1, this.scroller.clientHeight);
      this.hours.classList.toggle("stays", share < 0.55);
    }
  }

  dayAt(clientX) {
    const left = this.wide.getBoundingClientRect().left;
    return (clientX - left - this.names) / this.px;
  }

  // Where the shelf and the bays stand, from the top of all that is scrolled.
  places() {
    const { top } = this.wide.getBoundingClientRect();
    const place = (row, bay) => {
      const box = row.getBoundingClientRect();
      return { bay, top: box.top - top, bottom: box.bottom - top };
    };
    return [
      place(this.shelf, SHELF),
      ...[...this.bays.querySelectorAll(".bay-row")].map((row) => place(row, Number(row.dataset.bay))),
    ];
  }

  scrollAtEdge(x, y, edge) {
    const box = this.scroller.getBoundingClientRect();
    const left = box.left + this.names;
    if (x > box.right - edge) this.scroller.scrollLeft += 16;
    if (x < left + edge / 2) this.scroller.scrollLeft -= 16;
    if (y > box.bottom - edge) this.scroller.scrollTop += 12;
    if (y < box.top + edge) this.scroller.scrollTop -= 12;
  }

  // Bring an element out from under the names, the dates and the man-hours.
  reveal(element) {
    const box = this.scroller.getBoundingClientRect();
    const one = element.getBoundingClientRect();
    const left = box.left + this.names + 8;
    const right = box.right - 16;
    if (one.left < left || one.width > right - left) this.scroller.scrollLeft += one.left - left;
    else if (one.right > right) this.scroller.scrollLeft += one.right - right;
    if (this.hours.contains(element) && this.hours.classList.contains("stays")) return;
    const top = box.top + this.head.offsetHeight + 4;
    const stays = this.hours.classList.contains("stays");
    const bottom = box.bottom - (stays ? this.hours.offsetHeight : 0) - 12;
    if (one.top < top) this.scroller.scrollTop += one.top - top;
    else if (one.bottom > bottom) this.scroller.scrollTop += one.bottom - bottom;
  }

  // What a person does.

  pick(item) {
    const known = this.known.get(item);
    if (known.check) this.tell("picked", { check: known.check });
    else if (known.cell) {
      const { skill, week } = known.cell;
      const picked = { skill: this.rows.skills[skill], week: this.rows.weeks[week].name };
      this.showSkill(picked.skill);
      this.tell("picked", picked);
    }
  }

  get skill() {
    return this.kept.skill;
  }

  showSkill(skill) {
    this.kept.skill = skill;
    drawColumns(this.columns, this);
    this.markSkill();
    if (this.isPhone) drawList(this.list, this);
  }

  skillChosen(chosen) {
    const isOther = JSON.stringify(chosen) !== this.kept.chosen;
    if (chosen?.skill && isOther) this.showSkill(chosen.skill);
    else this.markSkill();
  }

  markSkill() {
    for (const button of this.heat.querySelectorAll(".skill")) {
      button.setAttribute("aria-pressed", String(button.textContent === this.skill));
    }
  }

  markChosen(isNew) {
    const { chosen } = this;
    this.behind.hidden = !chosen;
    const what = chosen?.check ?? `${chosen?.skill}, ${chosen?.week}`;
    this.behind.textContent = `${this.words.behind.replace("#", what)} \u2193`;
    const isOther = JSON.stringify(chosen) !== this.kept.chosen;
    this.kept.chosen = JSON.stringify(chosen);
    let first = null;
    for (const [element, known] of this.known) {
      const { cell } = known;
      const isChosen =
        (chosen?.check !== undefined && known.check === chosen.check) ||
        (chosen?.week !== undefined &&
          cell !== undefined &&
          this.rows.weeks[cell.week].name === chosen.week &&
          this.rows.skills[cell.skill] === chosen.skill);
      if (isChosen) {
        element.setAttribute("aria-selected", "true");
        first ??= element;
      } else if (element.hasAttribute("aria-selected")) {
        element.removeAttribute("aria-selected");
      }
    }
    if (isOther || isNew) this.keys.stops();
    if (isOther && first) this.reveal(first);
    if (this.isPhone) drawList(this.list, this);
  }

  focusedItem() {
    return this.root.getRootNode().activeElement?.closest(".item");
  }

  showTip(item, event, before = []) {
    const known = this.known.get(item);
    const one = known.block || known.waiting || known.taken || known.cell;
    const box = item.getBoundingClientRect();
    const left = Math.max(box.left, this.scroller.getBoundingClientRect().left + this.names);
    this.tip.show([...before, ...one.told], event ? event.clientX : left, event ? event.clientY : box.bottom - 12);
  }

  applyFilter() {
    const found = new Set();
    const names = new Set();
    for (const [element, known] of this.known) {
      const one = known.block || known.waiting;
      if (!one) continue;
      names.add(one.check);
      const takes = this.filter.takes(one);
      element.classList.toggle("dim", !takes);
      if (takes) found.add(one.check);
    }
    this.filter.tell(found.size, names.size);
    if (this.isPhone) drawList(this.list, this);
  }

  say(text) {
    this.live.textContent = text;
  }
}

// What all marks stand upon: with another one nothing that was drawn can stay.
function frameOf({ first, day_count: dayCount, bays, weeks, skills, works }, look) {
  const rows = bays.map(({ name, hangar, told }) => [name, hangar, told]);
  return JSON.stringify([look, first, dayCount, rows, weeks, skills, works]);
}

// What is behind a check or a week stands below the board, on the page itself.
function goBehind() {
  const place = document.querySelector(".st-key-behind");
  place?.scrollIntoView({ behavior: "smooth", block: "start" });
}

function grid(className) {
  const element = make("div", className);
  element.setAttribute("role", "grid");
  return element;
}
