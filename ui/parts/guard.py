"""What only the browser can do: warn of leaving with unsaved work, and read pasted dates aright."""

import streamlit as st

from ui.desk.desk import Desk
from ui.planner.date_order import DateOrder

# A grid reads a pasted 04/03/2027 as the browser's language of programs does, month first, whoever
# pastes it. So a pasted cell that is a date in figures alone is written anew as 2027-03-04, in the
# person's order, before the grid sees it. One that is uncertain loses its figures, so that the
# grid refuses it: of any others it would make today.
JS = r"""
const ours = { leaving: null, pasting: null };
const NUMBERS = /^(\d{1,2})\s?[-.\/]\s?(\d{1,2})\s?[-.\/]\s?(\d{4}|\d{2})$/;

function isDay(year, month, day) {
  const made = new Date(Date.UTC(year, month - 1, day));
  return made.getUTCMonth() === month - 1 && made.getUTCDate() === day;
}

function read(cell, order) {
  const found = NUMBERS.exec(cell.trim());
  if (!found) return cell;
  const [first, second] = [Number(found[1]), Number(found[2])];
  const year = found[3].length === 4 ? Number(found[3]) : 2000 + Number(found[3]);
  const ways = [[second, first], [first, second]].filter(([m, d]) => isDay(year, m, d));
  let way = order === "month" ? [first, second] : order === "day" ? [second, first] : null;
  if (ways.length === 1 || first === second) way = ways[0];
  if (!way || !ways.length) return cell.replace(/\d/g, "?");
  const two = number => String(number).padStart(2, "0");
  return `${year}-${two(way[0])}-${two(way[1])}`;
}

export default function (component) {
  const { data } = component;
  if (ours.leaving) window.removeEventListener("beforeunload", ours.leaving);
  if (ours.pasting) window.removeEventListener("paste", ours.pasting, true);
  ours.leaving = event => {
    if (data.loses) {
      event.preventDefault();
      event.returnValue = true;
    }
  };
  ours.pasting = async event => {
    if (event.isOurs || !event.clipboardData) return;
    const grid = document.activeElement && document.activeElement.closest(
      "[data-testid=stDataFrame]");
    if (!grid) return;
    const text = event.clipboardData.getData("text/plain");
    const cells = text.split(/(\t|\r?\n)/).map(cell => read(cell, data.order)).join("");
    if (cells === text) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const held = new DataTransfer();
    held.setData("text/plain", cells);
    const again = new ClipboardEvent("paste", {
      clipboardData: held, bubbles: true, cancelable: true });
    again.isOurs = true;
    try {
      await navigator.clipboard.writeText(cells);
    } catch (refused) {
      // The grid then reads what is held by the event, or the browser pastes nothing.
    }
    document.activeElement.dispatchEvent(again);
  };
  window.addEventListener("beforeunload", ours.leaving);
  window.addEventListener("paste", ours.pasting, true);
  return () => {
    window.removeEventListener("beforeunload", ours.leaving);
    window.removeEventListener("paste", ours.pasting, true);
  };
}
"""

_GUARD = st.components.v2.component("desk_guard", js=JS)


def would_lose(desk: Desk) -> bool:
    """Return whether something is lost when the page is closed now.

    Changes that are not used yet and the plan are kept on disk with the desk. Only where that
    cannot be are they lost; and work that is going on ends soon after its page is closed.
    """
    is_something = desk.opened is not None and desk.is_touched
    return desk.is_working or (bool(desk.why_not_saved) and is_something)


def show_guard(desk: Desk, order: DateOrder) -> None:
    """Have the browser warn before what is not kept is lost; there is nothing to see."""
    _GUARD(key="guard", data={"loses": would_lose(desk), "order": order.value})
