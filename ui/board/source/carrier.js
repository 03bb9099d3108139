// Takes the rows of a plan to the board; there is nothing to see. A first line says whose they are.

import { isKept, keep } from "./plan_rows.js";

const LINE_END = 10;

export default function carry({ data }) {
  const text = new TextDecoder();
  const end = data.indexOf(LINE_END);
  const { name, stamp } = JSON.parse(text.decode(data.subarray(0, end)));
  if (!isKept(name, stamp)) keep(name, stamp, JSON.parse(text.decode(data.subarray(end + 1))));
}
