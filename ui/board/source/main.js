// Called by the page whenever there is something new to draw; what a person has zoomed and
// scrolled to is kept, also when the page puts the board into another place.

import { Board } from "./board.js";
import { whenKept } from "./plan_rows.js";

const boards = new WeakMap();
const kept = new Map();

export default function show({ parentElement, data, setTriggerValue }) {
  let board = boards.get(parentElement);
  if (board === undefined) {
    if (!kept.has(data.name)) kept.set(data.name, {});
    board = new Board(parentElement, kept.get(data.name));
    boards.set(parentElement, board);
  }
  board.tell = (event, value) => setTriggerValue(event, value);
  whenKept(data.name, () => board.show(data));
  board.show(data);
}
