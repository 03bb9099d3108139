// On a phone: the checks in order of in day, then the weeks of a skill, with all that the board says.

import { make } from "./elements.js";
import { paintOn } from "./paints.js";

export function drawList(list, board) {
  const { rows, look, words } = board;
  list.replaceChildren();
  const waiting = rows.waiting.map((one) => ({ ...one, marks: [one.slot] }));
  const blocks = [...rows.blocks]
    .sort((one, other) => one.first - other.first)
    .map((one) => ({ ...one, marks: [] }));
  const checks = make("ul", "checks");
  checks.setAttribute("aria-label", words.checks);
  for (const one of [...waiting, ...blocks]) {
    if (!board.filter.takes(one)) continue;
    checks.append(checkOf(one, board, look.paints[one.paint]));
  }
  const weeks = make("ul", "weeks");
  weeks.setAttribute("aria-label", words.weeks);
  const skill = rows.skills.indexOf(board.skill);
  for (const one of rows.cells) {
    if (one.skill === skill) weeks.append(weekOf(one, board));
  }
  list.append(make("h3", "", words.checks), checks, skillsOf(board), weeks);
}

function checkOf(one, board, paint) {
  const entry = make("li");
  const button = make("button", "entry");
  button.type = "button";
  button.setAttribute("aria-pressed", String(board.chosen?.check === one.check));
  const swatch = make("span", "swatch");
  swatch.setAttribute("aria-hidden", "true");
  paintOn(swatch, paint);
  const text = make("span", "entry-text");
  const sign = one.is_fixed ? `${board.words.square} ` : "";
  text.append(make("b", "", `${sign}${one.check}`));
  const late = one.late_days ? [board.words.late.replace("#", one.late_days)] : [];
  const marks = [...one.marks, ...late, one.held && `${board.words.held} ${one.held}`];
  for (const mark of marks.filter(Boolean)) text.append(make("b", "", ` · ${mark}`));
  for (const line of one.told) text.append(make("span", "line", line));
  for (const stage of one.stages || []) text.append(make("span", "line stage-line", stage.told));
  button.append(swatch, text);
  button.addEventListener("click", () => board.tell("picked", { check: one.check }));
  entry.append(button);
  return entry;
}

function skillsOf(board) {
  const label = make("label", "skills", `${board.words.weeks} `);
  const select = make("select");
  for (const skill of board.rows.skills) {
    const option = make("option", "", skill);
    option.value = skill;
    select.append(option);
  }
  select.value = board.skill;
  select.addEventListener("change", () => board.showSkill(select.value));
  label.append(select);
  return label;
}

function weekOf(one, board) {
  const entry = make("li");
  const button = make("button", "entry");
  button.type = "button";
  const swatch = make("span", "swatch wide-swatch", one.printed);
  paintOn(swatch, { ...board.look.bands[one.band], hatching: "none" });
  const text = make("span", "entry-text");
  for (const line of one.told) text.append(make("span", "line", line));
  button.append(swatch, text);
  const { rows } = board;
  button.addEventListener("click", () =>
    board.tell("picked", { skill: rows.skills[one.skill], week: rows.weeks[one.week].name }),
  );
  entry.append(button);
  return entry;
}
