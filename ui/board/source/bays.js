// The shelf of checks without a slot, and the bays with all that takes them.

import { hold } from "./drawn.js";
import { cell, make, over } from "./elements.js";
import { hatching, paintOn } from "./paints.js";

const BLOCK_HEIGHT = 24;
const STRIP_HEIGHT = 14;
const TOP = 4;
const LANE_HEIGHT = 13;
const LEAST_HEIGHT = 46;

export function drawShelf(shelf, board) {
  const { rows, look, words } = board;
  const count = Math.max(0, ...rows.waiting.map((one) => one.row + 1));
  shelf.replaceChildren();
  shelf.hidden = count === 0 && !board.canMove;
  const tracks = [];
  for (let number = 0; number < Math.max(1, count); number += 1) {
    const row = rowOf("row shelf-row", number === 0 ? words.shelf : "", board);
    if (number > 0) row.querySelector(".name").setAttribute("aria-label", words.shelf);
    shelf.append(row);
    tracks.push(row.querySelector(".track"));
  }
  for (const one of rows.waiting) {
    const element = over(cell("item waiting", one.told), one.first, one.until);
    paintOn(element, { ...look.paints[one.paint], edge: "dashed", border: look.ink });
    const label = labelOf("", one.check, one.label, marksOf(one, words));
    element.append(label);
    nameAsSeen(element, label, one.told);
    tracks[one.row].append(element);
    board.know(element, { check: one.check, waiting: one, row: one.row, grid: "shelf" });
  }
}

export function drawBays(bays, board) {
  const { rows, look, drawn } = board;
  if (!board.staysTheSame) drawRows(bays, board);
  const all = [...bays.querySelectorAll(".bay-row")];
  rows.bays.forEach((bay, number) => {
    all[number].style.height = `${LEAST_HEIGHT + LANE_HEIGHT * bay.lanes}px`;
  });
  const marks = rows.bays.map(() => []);
  for (const run of rows.off) {
    const off = drawn.of(run, () => rows.bays.map(() => offOf(run, look)));
    marks.forEach((inBay, number) => inBay.push(off[number]));
  }
  // In order of days, as a screen reader goes through them.
  const items = [
    ...rows.taken.map((one) => ({ one, draw: () => [takenOf(one, board)] })),
    ...rows.blocks.map((one) => ({ one, draw: () => [blockOf(one, board), ...dueOf(one, board)] })),
  ].sort((first, second) => first.one.first - second.one.first);
  for (const { one, draw } of items) marks[one.bay].push(...drawn.of(one, draw));
  marks.forEach((inBay, number) => hold(all[number].querySelector(".track"), inBay));
}

function drawRows(bays, board) {
  bays.replaceChildren();
  let group = null;
  board.rows.bays.forEach((bay, number) => {
    if (group === null || bay.hangar !== group.getAttribute("aria-label")) {
      group = make("div", "hangar");
      group.setAttribute("role", "rowgroup");
      group.setAttribute("aria-label", bay.hangar);
      const title = make("div", "hangar-name");
      title.append(make("span", "sticky", bay.hangar));
      title.setAttribute("aria-hidden", "true");
      group.append(title);
      bays.append(group);
    }
    const row = rowOf("row bay-row", bay.name, board, bay.told);
    row.dataset.bay = number;
    group.append(row);
  });
}

function offOf([first, until], look) {
  const off = over(make("div", "off"), first, until);
  paintOn(off, look.paints["day off"]);
  return off;
}

function rowOf(className, name, board, told) {
  const row = make("div", className);
  row.setAttribute("role", "row");
  const header = make("div", "name", name);
  header.setAttribute("role", "rowheader");
  if (told) {
    header.title = told;
    header.setAttribute("aria-label", told);
  }
  const track = make("div", "track");
  track.setAttribute("role", "presentation");
  row.append(header, track);
  return row;
}

function takenOf(one, board) {
  const { look } = board;
  const element = over(cell(`item taken ${one.kind.replace(" ", "-")}`, one.told), one.first, one.until);
  const kind = one.kind === "closed" ? look.paints.closed : look.taken;
  element.style.backgroundColor = look.paper;
  element.style.backgroundImage = hatching(kind.hatching, kind.lines, one.kind === "closed" ? 7 : 11);
  element.append(make("span", `follows words ${one.kind}-words`, one.label));
  board.know(element, { taken: one, row: one.bay, grid: "bays" });
  return element;
}

function blockOf(block, board) {
  const { look, words } = board;
  const element = over(cell("item block", block.told), block.first, block.until);
  element.setAttribute(
    "aria-description",
    block.stages.map((stage) => stage.told).join("; "),
  );
  const face = make("div", "face");
  face.setAttribute("aria-hidden", "true");
  paintOn(face, look.paints[block.paint]);
  if (block.is_fixed) face.classList.add("fixed");
  if (block.is_past) face.classList.add("past");
  if (block.late_days) face.classList.add("late");
  const label = labelOf(block.is_fixed ? words.square : "", block.check, block.label, marksOf(block, words));
  face.append(label);
  nameAsSeen(element, label, block.told);
  const strips = make("div", "strips");
  strips.setAttribute("aria-hidden", "true");
  for (const stage of block.stages) {
    const strip = over(make("div", "strip"), stage.first - block.first, stage.until - block.first);
    const work = look.works[Math.min(stage.work, look.works.length - 1)];
    strip.style.backgroundColor = work.fill;
    strip.style.color = work.ink;
    // Written by the style sheet: the description of the block says it, its name does not.
    strip.dataset.name = stage.name;
    strip.dataset.told = stage.told;
    strips.append(strip);
  }
  element.append(face, strips);
  board.know(element, { check: block.check, block, row: block.bay, grid: "bays" });
  return element;
}

// What is seen comes first in the name, so that who speaks to the page can say what they read.
function nameAsSeen(element, label, told) {
  element.setAttribute("aria-label", [label.textContent, ...told].join(". "));
}

function labelOf(sign, name, more, marks) {
  const label = make("span", "follows label");
  label.append(make("b", "", sign ? `${sign} ${name}` : name), make("span", "", ` ${more}`));
  for (const mark of marks) label.append(make("span", "mark", ` · ${mark}`));
  return label;
}

function marksOf(one, words) {
  const marks = [];
  if (one.held) marks.push(`${words.held} ${one.held}`);
  if (one.moved) marks.push(words.moved);
  if (typeof one.out_by_its_day === "number") {
    marks.push(`${Math.floor(100 * one.out_by_its_day)} % ${words.inTime}`);
  }
  return marks;
}

// What was agreed hangs from its own block: a line from its right end down and on to the bar.
function dueOf(block, board) {
  const { words } = board;
  if (block.agreed === null && !block.late_days) return [];
  const agreed = block.agreed === null ? block.until : block.agreed;
  const due = over(
    make("div", `due lane-${block.lane} ${block.late_days ? "missed" : "kept"}`),
    Math.min(agreed, block.until),
    Math.max(agreed, block.until),
  );
  due.setAttribute("aria-hidden", "true");
  due.style.top = `${TOP + BLOCK_HEIGHT + STRIP_HEIGHT + 2 + LANE_HEIGHT * block.lane}px`;
  const text = block.late_days ? words.late.replace("#", block.late_days) : words.agreed;
  const stem = make("div", "stem");
  stem.style.height = `${LANE_HEIGHT * block.lane + 4}px`;
  due.append(stem, make("div", "upright"), make("span", "due-words", text));
  return [due];
}
