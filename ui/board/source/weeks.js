// Man-hours beneath the bays: how full each week is by skill, and the columns of one skill.

import { hold } from "./drawn.js";
import { cell, make, over } from "./elements.js";
import { paintOn } from "./paints.js";

export const COLUMNS_HEIGHT = 120;

export function drawHeat(heat, board) {
  const { rows, drawn } = board;
  if (!board.staysTheSame) drawRows(heat, board);
  const tracks = [...heat.querySelectorAll("[data-skill] .track")];
  const cells = rows.skills.map(() => []);
  for (const one of rows.cells) cells[one.skill].push(...drawn.of(one, () => [cellOf(one, board)]));
  cells.forEach((ofSkill, number) => hold(tracks[number], ofSkill));
}

function drawRows(heat, board) {
  const { rows, words } = board;
  heat.replaceChildren();
  const head = heatRow(words.week, board);
  head.classList.add("week-names");
  rows.weeks.forEach((week) => {
    const element = over(make("div", "week-name", week.name.slice(5)), week.first, week.first + 7);
    element.setAttribute("role", "columnheader");
    element.setAttribute("aria-label", week.name);
    head.querySelector(".track").append(element);
  });
  heat.append(head);
  rows.skills.forEach((skill, number) => {
    const row = heatRow("", board);
    const name = row.querySelector(".name");
    const choose = make("button", "skill", skill);
    choose.type = "button";
    choose.title = words.showSkill.replace("#", skill);
    choose.addEventListener("click", () => board.showSkill(skill));
    name.append(choose);
    row.dataset.skill = number;
    heat.append(row);
  });
}

function cellOf(one, board) {
  const { rows, look, words } = board;
  const week = rows.weeks[one.week];
  const element = over(cell("item heat", one.told), week.first, week.first + 7);
  paintOn(element, { ...look.bands[one.band], hatching: "none" });
  element.append(make("span", "printed", one.printed));
  if (typeof one.at_risk === "number") {
    element.classList.add("at-risk");
    element.append(make("span", "risk", ` ${words.risk} ${Math.round(100 * one.at_risk)} %`));
  }
  board.know(element, { cell: one, row: one.skill, grid: "heat" });
  return element;
}

function heatRow(name, board) {
  const row = make("div", "row heat-row");
  row.setAttribute("role", "row");
  const header = make("div", "name", name);
  header.setAttribute("role", "rowheader");
  const track = make("div", "track");
  track.setAttribute("role", "presentation");
  row.append(header, track);
  return row;
}

export function drawColumns(columns, board) {
  const { rows, look, words } = board;
  const hours = rows.hours.find((one) => one.skill === board.skill) || rows.hours[0];
  columns.replaceChildren();
  if (!hours) return;
  const scale = (amount) => (amount / hours.top) * (COLUMNS_HEIGHT - 16);
  const name = make("div", "name");
  name.append(make("div", "axis-title", `${hours.skill}, ${words.hoursAWeek}`));
  const track = make("div", "track");
  for (const tick of hours.ticks) {
    const label = make("div", "tick", tick.toLocaleString("en-GB"));
    label.style.bottom = `${scale(tick)}px`;
    name.append(label);
    const line = make("div", "gridline");
    line.style.bottom = `${scale(tick)}px`;
    track.append(line);
  }
  for (const part of hours.parts) {
    const week = rows.weeks[part.week];
    const box = over(make("div", "part"), week.first, week.first + 7);
    paintOn(box, look.paints[part.share]);
    box.style.bottom = `${scale(part.low)}px`;
    box.style.height = `${Math.max(1, scale(part.high) - scale(part.low))}px`;
    track.append(box);
  }
  hours.limits.forEach((limits, number) => {
    const week = rows.weeks[number];
    limits.forEach((amount, kind) => {
      const line = over(make("div", `limit limit-${kind}`), week.first, week.first + 7);
      line.style.bottom = `${scale(amount)}px`;
      track.append(line);
    });
  });
  for (const [number, amount] of hours.even) {
    const week = rows.weeks[number];
    const line = over(make("div", "even"), week.first, week.first + 7);
    line.style.bottom = `${scale(amount)}px`;
    track.append(line);
  }
  for (const [number, amount, text] of hours.overload) {
    const week = rows.weeks[number];
    const word = over(make("div", "over-words"), week.first, week.first + 7);
    word.style.bottom = `${Math.min(scale(amount), COLUMNS_HEIGHT - 14)}px`;
    word.append(make("span", "", text));
    track.append(word);
  }
  columns.append(name, track);
}
