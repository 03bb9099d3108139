// What colours, hatchings and marks mean, each swatch with its word.

import { make } from "./elements.js";
import { hatching, paintOn } from "./paints.js";

export function drawLegend(legend, board) {
  const { look, words, rows } = board;
  legend.replaceChildren();
  for (const name of ["own fleet", "third party", "option"]) {
    legend.append(entry(name, (swatch) => paintOn(swatch, look.paints[name])));
  }
  legend.append(
    entry(words.fixed, (swatch) => {
      swatch.classList.add("fixed");
      swatch.textContent = words.square;
    }),
    entry(words.lateOut, (swatch) => swatch.classList.add("late")),
    entry(words.agreedOut, (swatch) => swatch.append(make("i", "upright"))),
    entry(words.noSlot, (swatch) => swatch.classList.add("dashed")),
    entry("closed", (swatch) => taken(swatch, look.paints.closed, 7)),
    entry(words.floorTaken, (swatch) => {
      taken(swatch, look.taken, 11);
      swatch.classList.add("floor-taken");
    }),
    entry(words.wayBlocked, (swatch) => {
      taken(swatch, look.taken, 11);
      swatch.classList.add("way-blocked");
    }),
    entry(words.changeover, (swatch) => {
      taken(swatch, look.taken, 11);
      swatch.classList.add("changeover");
    }),
  );
  if (rows.off.length) {
    legend.append(entry("day off", (swatch) => paintOn(swatch, look.paints["day off"])));
  }
  look.works.slice(0, rows.works.length).forEach((work, number) => {
    const isRest = number === look.works.length - 1 && rows.works.length > look.works.length;
    legend.append(
      entry(isRest ? words.otherWork : `${words.stages} ${rows.works[number]}`, (swatch) => {
        swatch.style.backgroundColor = work.fill;
      }),
    );
  });
  for (const [name, paint] of Object.entries(look.bands)) {
    legend.append(
      entry(name, (swatch) => {
        paintOn(swatch, { ...paint, hatching: "none" });
        swatch.textContent = paint.sign;
      }),
    );
  }
  words.limits.forEach((limit, kind) => {
    legend.append(entry(limit, (swatch) => swatch.classList.add("line", `limit-${kind}`)));
  });
  if (rows.hours.some((one) => one.even.length)) {
    legend.append(entry(words.even, (swatch) => swatch.classList.add("line", "even-line")));
  }
}

function entry(word, draw) {
  const element = make("span", "legend-entry");
  const swatch = make("span", "swatch");
  draw(swatch);
  element.append(swatch, make("span", "", word));
  return element;
}

function taken(swatch, paint, step) {
  swatch.style.backgroundImage = hatching(paint.hatching, paint.lines, step);
}
