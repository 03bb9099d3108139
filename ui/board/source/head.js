// The dates above the board: months, and below them weeks or days as far as there is room.

import { make, over } from "./elements.js";

const WHOLE_DATE = 72;
const SHORT_DATE = 46;
const DAY_NAME = 50;
const DAY_NUMBER = 20;

export function drawHead(months, below, board) {
  const { dates, dayCount, px } = board;
  months.replaceChildren(...monthsOf(dates, dayCount));
  below.replaceChildren();
  const weekWidth = 7 * px;
  if (px >= DAY_NUMBER) {
    for (let day = 0; day < dayCount; day += 1) {
      const text = px >= DAY_NAME ? dates.short(day).slice(0, 6) : dates.dayOfMonth(day);
      const element = make("div", dates.isMonday(day) ? "day monday" : "day", `${text}`.trim());
      below.append(over(element, day, day + 1));
    }
    return;
  }
  const every = Math.max(1, Math.ceil(SHORT_DATE / weekWidth));
  for (let week = 0; week * 7 < dayCount; week += every) {
    const day = week * 7;
    const text = weekWidth >= WHOLE_DATE ? dates.short(day) : dates.dayAndMonth(day);
    below.append(over(make("div", "day monday", text), day, Math.min(dayCount, day + 7 * every)));
  }
}

function monthsOf(dates, dayCount) {
  const found = [];
  let first = 0;
  for (let day = 1; day <= dayCount; day += 1) {
    if (day < dayCount && dates.dayOfMonth(day) !== 1) continue;
    const element = over(make("div", "month"), first, day);
    element.append(make("span", "sticky", dates.month(first)));
    found.push(element);
    first = day;
  }
  return found;
}
